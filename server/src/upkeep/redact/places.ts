/** What of a piece of text stays when a job is made shareable, and which values get a stand-in. */
import type { z } from 'zod';
import type { KindDeclaration } from '../../../../schemas/declare.ts';
import { type FieldMeta, metaOf, REF_KINDS } from '../../../../schemas/declare.ts';
import type { OwnField } from '../../../../schemas/kinds/own.ts';
import type { Finding } from '../../../../schemas/kinds/rules.ts';
import { findUnit } from '../../../../schemas/values/units.ts';
import {
  alternativeFor,
  alternativesOf,
  bare,
  childOf,
  fieldsOf,
  keyOf,
  meaningOf,
} from '../../../../schemas/walk.ts';
import type { Book } from '../../book/book.ts';
import { shapeOfNode } from '../../book/shape.ts';
import type { MapNode, Node, ScalarNode, Span } from '../../syntax/node.ts';
import type { Piece } from '../../syntax/piece.ts';

/** Kinds of scalar that take any text. */
const FREE: ReadonlySet<string> = new Set(['text', 'prose']);
/** A stretch of a piece that stays, or a value that gets a stand-in. What lies in no place gets one as well. */
export interface Place extends Span {
  readonly keep: boolean;
  /** The value, when it is one. */
  readonly node?: ScalarNode;
  readonly meta?: FieldMeta;
  /** It is personal by declaration, not only free text. */
  readonly personal?: boolean;
}

/** What the book itself says, so that it cannot be a customer's. */
export interface Words {
  /** Ids of anything but customers. */
  readonly ids: ReadonlySet<string>;
  /** Words of the scales of findings, and of fields of the shop. */
  readonly scale: ReadonlySet<string>;
}

export function wordsOf(book: Book): Words {
  const ids = new Set<string>();
  for (const kind of REF_KINDS)
    if (kind !== 'customer') for (const id of book.registry.ids(kind)) ids.add(id);
  const scale = new Set<string>();
  for (const definition of book.registry.all('finding'))
    for (const word of (book.valueOf(definition) as Finding | undefined)?.scale ?? []) scale.add(word);
  for (const definition of book.registry.all('field'))
    for (const word of Object.keys((definition.value as OwnField | undefined)?.choices ?? {}))
      scale.add(word);
  return { ids, scale };
}

/** In the order of the text. */
export function placesIn(piece: Piece, kind: KindDeclaration, words: Words, hidePrices: boolean): Place[] {
  const root = piece.section === undefined ? kind.schema : fieldsOf(kind.schema).get(piece.section)!.schema;
  const walk = new Walk(piece, kind.personal === true, words, hidePrices);
  walk.at(root, piece.read().node, undefined);
  return walk.places
    .filter(({ keep, node }) => !keep || !node || !walk.repeated.has(node.text))
    .sort((a, b) => a.start - b.start);
}

/** A node beside its declaration: what of it stays. */
class Walk {
  readonly places: Place[] = [];
  /** Texts written once and repeated (`*name`) where they are personal. */
  readonly repeated = new Set<string>();
  readonly #text: string;
  /** Where a quote is not closed, a value holds whatever follows it. */
  readonly #broken: boolean;
  readonly #strict: boolean;
  readonly #words: Words;
  readonly #hidePrices: boolean;

  /** `strict`: free text stays only where its declaration says so. */
  constructor(piece: Piece, strict: boolean, words: Words, hidePrices: boolean) {
    this.#text = piece.text;
    this.#broken = piece.read().problems.length > 0;
    this.#strict = strict;
    this.#words = words;
    this.#hidePrices = hidePrices;
  }

  at(declared: z.ZodType, node: Node, above: boolean | undefined): void {
    const meant =
      alternativesOf(declared).length === 1 ? bare(declared) : alternativeFor(declared, shapeOfNode(node));
    const meta = meant && meaningOf(declared, meant);
    const personal = meta?.personal ?? metaOf(declared).personal ?? above;
    if (!meant || !meta) this.#unknown(node);
    else if (node.type === 'scalar') this.#scalar(node, meant, meta, personal);
    else if (node.type === 'list')
      for (const item of node.items) this.#child(childOf(meant, 0), item, personal);
    else if (node.type === 'map') this.#map(node, meant, personal);
  }

  #map(node: MapNode, meant: z.ZodType, personal: boolean | undefined): void {
    const keys = keyOf(meant);
    for (const { key, value } of node.pairs) {
      const child = childOf(meant, key.text);
      if (keys) this.#scalar(key, keys, metaOf(keys), metaOf(keys).personal ?? personal);
      else if (child) this.places.push({ start: key.start, end: key.end, keep: true });
      else if (key.text.startsWith('x-') && key.style === 'plain')
        this.places.push({ start: key.start, end: key.start + 2, keep: true });
      this.#child(child, value, personal);
    }
  }

  #child(declared: z.ZodType | undefined, node: Node, personal: boolean | undefined): void {
    if (declared) this.at(declared, node, personal);
    else this.#unknown(node);
  }

  #unknown(node: Node): void {
    if (node.type === 'scalar') this.#replace(node, {}, false);
    else if (node.type === 'list') for (const item of node.items) this.#unknown(item);
    else if (node.type === 'map') for (const { value } of node.pairs) this.#unknown(value);
  }

  #scalar(node: ScalarNode, schema: z.ZodType, meta: FieldMeta, personal: boolean | undefined): void {
    const hidden =
      personal === true ||
      (this.#broken && node.text.includes('\n')) ||
      (this.#hidePrices && meta.scalar === 'money' && /[1-9]/.test(node.text)) ||
      (this.#strict && !this.#harmless(node.text, schema, meta, personal));
    if (hidden) this.#replace(node, meta, personal === true);
    else if (!this.#isRepeat(node))
      this.places.push({ start: node.start, end: node.end, keep: true, node, meta });
  }

  #replace(node: ScalarNode, meta: FieldMeta, personal: boolean): void {
    if (this.#isRepeat(node)) this.repeated.add(node.text);
    else this.places.push({ start: node.start, end: node.end, keep: false, node, meta, personal });
  }

  /** Whether a value reads as its field wants it, and so cannot be something else that was put in the wrong place. */
  #harmless(text: string, schema: z.ZodType, meta: FieldMeta, personal: boolean | undefined): boolean {
    const { scalar = '', refers, local } = meta;
    if (FREE.has(scalar)) return (personal === false && !text.includes('\n')) || this.#words.ids.has(text);
    if (!schema.safeParse(text).success) return false;
    if (scalar === 'reading' || scalar === 'own') return isReading(text) || this.#words.scale.has(text);
    if (meta.choices && Object.hasOwn(meta.choices, text)) return true;
    if (refers) return local ? /^[\w.-]+$/.test(text) : this.#words.ids.has(text);
    return true;
  }

  /** Written `*name`: all nodes of it stand at the name. */
  #isRepeat(node: ScalarNode): boolean {
    return node.style === 'plain' && this.#text[node.start] === '*';
  }
}

/** Yes, no, or a number with its unit. */
function isReading(text: string): boolean {
  if (/^(?:yes|no|true|false)$/i.test(text)) return true;
  const unit = /^[-+]?\d[\d.,/\s]*(.*)$/s.exec(text)?.[1];
  return unit === '' || (unit !== undefined && findUnit(unit) !== undefined);
}
