/** The book as a hover looks at it: from a place in a file, on a day, for a unit family. */
import type { RefKind } from '../../../schemas/declare.ts';
import type { Shop } from '../../../schemas/kinds/shop.ts';
import type { IsoDate } from '../../../schemas/values/dates.ts';
import type { Decimal } from '../../../schemas/values/decimal.ts';
import type { BookFile } from '../book/file.ts';
import { isInside, resolve } from '../book/paths.ts';
import type { Estimates } from '../estimate/estimates.ts';
import type { Source } from '../pricing/amount.ts';
import { type Printer, printerFor } from '../print/locale.ts';
import { detailsOf } from './completion-details.ts';
import type { Block } from './hover-blocks.ts';
import { Pricer, pricingDay } from './hover-price.ts';
import { sourceLocation } from './spot.ts';
import { usesText } from './uses.ts';

export class View {
  readonly estimates: Estimates;
  readonly file: BookFile;
  readonly today: IsoDate | undefined;
  /** The unit family that the place is about. */
  readonly unit: string | undefined;
  readonly pricer: Pricer;
  readonly printer: Printer;

  constructor(estimates: Estimates, file: BookFile, unit: string | undefined, today: IsoDate | undefined) {
    this.estimates = estimates;
    this.file = file;
    this.today = today;
    this.unit = unit;
    this.pricer = new Pricer(estimates, file, pricingDay(file, today), unit);
    this.printer = printerFor({ policy: this.pricer.policy });
  }

  /** Where a figure is written. */
  readonly whereIs = (source: Source | undefined) => sourceLocation(this.book, this.file, source);

  get book() {
    return this.estimates.book;
  }

  get shop(): Shop {
    return this.pricer.policy.shop;
  }

  value<T>(kind: RefKind, id: string): T | undefined {
    return this.book.value(kind, id) as T | undefined;
  }

  /** What an entry is called as printed; its id, where it has no name. */
  name(kind: RefKind, id: string): string {
    const { name } = (this.value<{ name?: unknown }>(kind, id) ?? {}) as { name?: unknown };
    return typeof name === 'string' ? name : id;
  }

  /** `Torque converter (TC-B)`. */
  named(kind: RefKind, id: string): string {
    const name = this.name(kind, id);
    return name === id ? id : `${name} (${id})`;
  }

  facts(kind: RefKind, id: string): string | undefined {
    return detailsOf(kind, id, this.value(kind, id), this.pricer).facts;
  }

  money(value: Decimal | undefined): string | undefined {
    return value && this.printer.money(value);
  }

  list(kind: RefKind, ids: readonly string[] | undefined): string | undefined {
    return ids?.map((id) => this.name(kind, id)).join(', ');
  }
}

/** Kinds of which an unused one is worth a word. */
const USEFUL: readonly RefKind[] = [
  'part',
  'operation',
  'step',
  'role',
  'finding',
  'record',
  'template',
  'unit',
];

/** `Used by 3 jobs, 1 template.` */
export function usedBy({ book }: View, kind: RefKind, id: string): Block[] {
  const users = usesText(book, kind, id);
  const ours = (text: string): Block[] => [{ is: 'text', text, ours: true }];
  if (users !== '') return ours(`Used by ${users}.`);
  return USEFUL.includes(kind) ? ours('Nothing in the book names it yet.') : [];
}

/** A picture as it is named in a file; nothing when its file is not there. */
export function pictureBlocks(
  view: View,
  home: BookFile | undefined,
  path: string | undefined,
  text: string,
): Block[] {
  const { root, host } = view.book;
  const uri = home && path !== undefined ? resolve(home.uri, path) : undefined;
  if (uri === undefined || !isInside(root, uri) || host.size(uri, root) === undefined) return [];
  return [{ is: 'picture', uri, text }];
}
