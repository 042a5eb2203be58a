import type { Piece } from './piece.ts';

const PER_BUCKET = 32;

/**
 * Which pieces bear a name, and which names stand twice. Immutable: an edit copies the row of buckets and the one
 * bucket (about 32 pieces) that its names fall into.
 */
export class KeyIndex {
  readonly #buckets: readonly (readonly Piece[])[];
  readonly #size: number;
  /** Pieces whose name stands more than once, by name and catalog. */
  readonly #repeated: ReadonlySet<string>;

  private constructor(buckets: readonly (readonly Piece[])[], size: number, repeated: ReadonlySet<string>) {
    this.#buckets = buckets;
    this.#size = size;
    this.#repeated = repeated;
  }

  static of(pieces: readonly Piece[]): KeyIndex {
    const buckets: Piece[][] = [];
    const count = 2 ** Math.ceil(Math.log2(Math.max(1, pieces.length / PER_BUCKET)));
    for (let i = 0; i < count; i++) buckets.push([]);
    const repeated = new Set<string>();
    for (const piece of pieces) {
      if (!named(piece)) continue;
      const bucket = buckets[hash(piece.section, piece.key) & (count - 1)]!;
      if (bucket.some((other) => same(other, piece))) repeated.add(name(piece));
      bucket.push(piece);
    }
    return new KeyIndex(buckets, pieces.length, repeated);
  }

  /** The pieces with this name in no particular order: one, or several when it is given twice. */
  find(section: string | undefined, key: string): Piece[] {
    const bucket = this.#buckets[hash(section, key) & (this.#buckets.length - 1)]!;
    return bucket.filter((piece) => piece.key === key && piece.section === section);
  }

  /** The groups of pieces that bear the same name. */
  repeats(): Piece[][] {
    return [...this.#repeated].map((full) => {
      const cut = full.indexOf('\n');
      return this.find(cut === 0 ? undefined : full.slice(1, cut), full.slice(cut + 1));
    });
  }

  /** The index after an edit; `all` gives the pieces should the file have outgrown its buckets. */
  replace(removed: readonly Piece[], added: readonly Piece[], all: () => readonly Piece[]): KeyIndex {
    const size = this.#size + added.length - removed.length;
    if (added.length + removed.length > size / 2 || size > this.#buckets.length * PER_BUCKET * 4)
      return KeyIndex.of(all());
    const buckets = this.#buckets.slice();
    const copied = new Set<number>();
    const bucketOf = (piece: Piece): Piece[] => {
      const at = hash(piece.section, piece.key) & (buckets.length - 1);
      if (!copied.has(at)) {
        copied.add(at);
        buckets[at] = buckets[at]!.slice();
      }
      return buckets[at] as Piece[];
    };
    for (const piece of removed) {
      if (!named(piece)) continue;
      const bucket = bucketOf(piece);
      bucket.splice(bucket.indexOf(piece), 1);
    }
    for (const piece of added) if (named(piece)) bucketOf(piece).push(piece);
    let repeated: Set<string> | undefined;
    for (const piece of [...removed, ...added]) {
      if (!named(piece)) continue;
      const twice = bucketOf(piece).filter((other) => same(other, piece)).length > 1;
      const full = name(piece);
      if (twice === (repeated ?? this.#repeated).has(full)) continue;
      repeated ??= new Set(this.#repeated);
      if (twice) repeated.add(full);
      else repeated.delete(full);
    }
    return new KeyIndex(buckets, size, repeated ?? this.#repeated);
  }
}

function named(piece: Piece): boolean {
  return piece.kind !== 'whole' && piece.key !== '';
}

function same(a: Piece, b: Piece): boolean {
  return a.key === b.key && a.section === b.section;
}

function name(piece: Piece): string {
  return piece.section === undefined ? `\n${piece.key}` : `.${piece.section}\n${piece.key}`;
}

/** FNV-1a over the UTF-16 units. */
function hash(section: string | undefined, key: string): number {
  let h = 0x811c9dc5;
  if (section !== undefined) h = mix(h, section);
  return mix(h ^ 1, key) >>> 0;
}

function mix(start: number, text: string): number {
  let h = start;
  for (let i = 0; i < text.length; i++) h = Math.imul(h ^ text.charCodeAt(i), 0x01000193);
  return h;
}
