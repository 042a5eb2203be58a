/** Which part of the book a supplier's number means. */
import type { Part } from '../../../../schemas/kinds/parts.ts';
import type { Book } from '../../book/book.ts';
import type { Definition } from '../../book/facts.ts';
import type { BookFile } from '../../book/file.ts';

export interface Match {
  readonly definition: Definition;
  /** Only alike: case, spaces, dashes, or zeros that a spreadsheet has eaten. */
  readonly guessed: boolean;
}

export class PartNumbers {
  readonly parts: readonly Definition[];
  readonly #typed = new Map<string, Definition[]>();
  #alike: Map<string, Definition[]> | undefined;

  constructor(book: Book, files: ReadonlySet<BookFile>) {
    this.parts = [...book.registry.all('part')].filter((one) => files.has(one.facts.file));
    for (const one of this.parts) add(this.#typed, supplierNumber(book, one), one);
  }

  /** Several when two parts have the number at two suppliers. */
  find(number: string): readonly Match[] {
    const typed = this.#typed.get(number);
    if (typed) return typed.map((definition) => ({ definition, guessed: false }));
    this.#alike ??= this.#fold();
    return (this.#alike.get(folded(number)) ?? []).map((definition) => ({ definition, guessed: true }));
  }

  #fold(): Map<string, Definition[]> {
    const alike = new Map<string, Definition[]>();
    for (const [number, parts] of this.#typed) for (const one of parts) add(alike, folded(number), one);
    return alike;
  }
}

function add(map: Map<string, Definition[]>, key: string, value: Definition): void {
  const list = map.get(key);
  if (list) list.push(value);
  else map.set(key, [value]);
}

/** Entries are judged when asked; those that do not speak of the supplier's number are not asked. */
function supplierNumber(book: Book, { id, facts, row }: Definition): string {
  if (row !== undefined || !facts.piece.text.includes('supplier-number')) return id;
  return (book.value('part', id) as Part | undefined)?.['supplier-number'] ?? id;
}

function folded(number: string): string {
  return number
    .toUpperCase()
    .replace(/[^\p{L}\p{N}]+/gu, '')
    .replace(/^0+(?=.)/, '');
}
