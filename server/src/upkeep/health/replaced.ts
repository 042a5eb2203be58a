/** Numbers that were replaced and that open jobs, templates and kits still name. */
import type { Part } from '../../../../schemas/kinds/parts.ts';
import type { IsoDate } from '../../../../schemas/values/dates.ts';
import type { Book } from '../../book/book.ts';
import type { Definition, PieceFacts } from '../../book/facts.ts';
import { isOpen, isPresented, jobOf, nameOf } from '../jobs.ts';
import { argumentsOf } from './arguments.ts';
import { type Finding, findingOn } from './finding.ts';

export function* replacedAndNamed(book: Book, on: IsoDate): Generator<Finding> {
  const given = argumentsOf(book);
  for (const definition of book.registry.all('part')) {
    // The text is asked first: a hundred thousand entries need not be judged to find the few.
    if (definition.row !== undefined || !definition.facts.piece.text.includes('superseded-by')) continue;
    const next = (definition.value as Part | undefined)?.['superseded-by'];
    if (!next || (next.from !== undefined && next.from > on)) continue;
    const named = [...book.registry.users('part', definition.id)].flatMap((facts) =>
      whoNames(facts, definition),
    );
    const users = new Set([...named, ...(given.get(definition.id) ?? [])]);
    if (users.size > 0)
      yield findingOn(
        'replaced',
        definition,
        `${next.part} took its place; named by ${[...users].sort().join(', ')}`,
      );
  }
}

function whoNames({ file, piece }: PieceFacts, { id }: Definition): string[] {
  switch (file.kind?.kind) {
    case 'job':
      return isOpen(jobOf(file)) && !isPresented(jobOf(file)) ? [`job ${nameOf(file)}`] : [];
    case 'template':
      return [`template ${String(file.value.id ?? '')}`];
    case 'parts': {
      const part = [...(file.factsAt(piece)?.parts ?? [])].find(({ key }) => key === piece.key)?.value as
        | Part
        | undefined;
      return part?.contents?.some((one) => one.part === id) ? [`kit ${piece.key}`] : [];
    }
    default:
      return [];
  }
}
