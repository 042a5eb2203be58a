/** Icons of the protocol for what a book is made of, and a word beside each id. */
import type { SymbolKind } from 'vscode-languageserver-types';
import type { RefKind } from '../../../schemas/declare.ts';
import type { Book } from '../book/book.ts';
import type { Definition } from '../book/facts.ts';

/** Numbers of the protocol's `SymbolKind`. */
export const SYMBOL = {
  file: 1,
  module: 2,
  package: 4,
  class: 5,
  method: 6,
  property: 7,
  field: 8,
  constructor: 9,
  enum: 10,
  interface: 11,
  function: 12,
  variable: 13,
  constant: 14,
  string: 15,
  array: 18,
  object: 19,
  key: 20,
  enumMember: 22,
  struct: 23,
  event: 24,
  operator: 25,
  typeParameter: 26,
} as const satisfies Record<string, SymbolKind>;

export const SYMBOL_OF: Readonly<Record<RefKind, SymbolKind>> = {
  shop: SYMBOL.package,
  rate: SYMBOL.key,
  schedule: SYMBOL.key,
  fee: SYMBOL.key,
  discount: SYMBOL.key,
  payer: SYMBOL.key,
  customer: SYMBOL.key,
  warranty: SYMBOL.key,
  supplier: SYMBOL.key,
  field: SYMBOL.property,
  jurisdiction: SYMBOL.package,
  'tax-class': SYMBOL.enum,
  part: SYMBOL.constant,
  step: SYMBOL.method,
  operation: SYMBOL.function,
  adder: SYMBOL.operator,
  caution: SYMBOL.event,
  unit: SYMBOL.class,
  'fluid-class': SYMBOL.enum,
  trait: SYMBOL.enumMember,
  role: SYMBOL.interface,
  finding: SYMBOL.field,
  rule: SYMBOL.event,
  record: SYMBOL.struct,
  template: SYMBOL.module,
  parameter: SYMBOL.typeParameter,
  job: SYMBOL.file,
  option: SYMBOL.enum,
  case: SYMBOL.method,
};

/** How an entry is called in words: its name, or the first words it has. */
export function nameOf(value: unknown): string {
  const { name, what, text } = (value ?? {}) as { name?: unknown; what?: unknown; text?: unknown };
  const words = [name, what, text].find((one) => typeof one === 'string');
  return shortened((words as string | undefined) ?? '');
}

export function nameOfDefinition(book: Book, definition: Definition): string {
  return nameOf(book.valueOf(definition));
}

/** Whether an entry has been replaced by another, or can no longer be had. */
export function isOutdated(value: unknown): boolean {
  const entry = (value ?? {}) as { status?: unknown; 'superseded-by'?: unknown };
  return entry.status === 'discontinued' || entry['superseded-by'] !== undefined;
}

const MOST = 80;

export function shortened(text: string): string {
  const line = text.split(/[\r\n]/, 1)[0]!;
  return line.length > MOST ? `${line.slice(0, MOST - 1)}…` : line;
}
