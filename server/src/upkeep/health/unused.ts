/** Entries that nothing in the book names. */
import type { RefKind } from '../../../../schemas/declare.ts';
import type { Operation } from '../../../../schemas/kinds/labor.ts';
import type { Part } from '../../../../schemas/kinds/parts.ts';
import type { Book } from '../../book/book.ts';
import type { Definition } from '../../book/facts.ts';
import { argumentsOf } from './arguments.ts';
import { type Finding, findingOn } from './finding.ts';

/** Kinds of which an entry that nobody names is of no use. */
const LOOKED_AT: readonly RefKind[] = [
  'part',
  'operation',
  'step',
  'template',
  'caution',
  'schedule',
  'rate',
  'payer',
  'supplier',
];

export function* unused(book: Book): Generator<Finding> {
  const given = argumentsOf(book, true);
  for (const kind of LOOKED_AT) {
    for (const definition of book.registry.all(kind)) {
      // What a supplier lists and the shop has never sold is no fault of the book.
      if (definition.row !== undefined || isNamed(book, definition) || given.has(definition.id)) continue;
      if (isAskedFor(book, definition)) continue;
      yield findingOn('unused', definition, `${definition.kind} that nothing names`);
    }
  }
}

function isNamed(book: Book, { kind, id, facts }: Definition): boolean {
  for (const user of book.registry.users(kind, id)) if (user !== facts) return true;
  return false;
}

/** Whether something other than a catalog of parts names its role: a rule, an operation, a template. */
function isAskedFor(book: Book, { value, facts }: Definition): boolean {
  const role = (value as Part | Operation | undefined)?.role;
  if (role === undefined) return false;
  for (const user of book.registry.users('role', role))
    if (user !== facts && user.file.kind?.kind !== 'parts') return true;
  return false;
}
