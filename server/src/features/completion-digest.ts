/**
 * What is needed of a part to find it and to rank it. Taken from the facts and the text that are there already: judging
 * a hundred thousand entries for one list would take seconds, and keeping them a hundred megabytes.
 */
import type { RefKind } from '../../../schemas/declare.ts';
import type { Part } from '../../../schemas/kinds/parts.ts';
import type { Definition, PieceFacts } from '../book/facts.ts';
import { pairOf } from '../syntax/node.ts';
import { entryOf } from '../syntax/piece.ts';

export interface Digest {
  readonly definition: Definition;
  readonly id: string;
  readonly name: string;
  /** Unit families it is made for; empty when it fits all. */
  readonly fits: readonly string[];
  /** What it is to a rule; of kits, what is in them too. */
  readonly roles: readonly string[];
  /** Superseded, or no longer made. */
  readonly gone: boolean;
}

const NONE: readonly string[] = [];

export function digestOf(definition: Definition): Digest {
  const { id, facts } = definition;
  if (definition.row !== undefined || facts.piece.kind !== 'entry') {
    const part = (definition.value ?? {}) as Partial<Part>;
    return {
      definition,
      id,
      name: part.name ?? '',
      fits: part.fits ?? NONE,
      roles: part.role === undefined ? NONE : [part.role],
      gone: part['superseded-by'] !== undefined || part.status === 'discontinued',
    };
  }
  return {
    definition,
    id,
    name: nameIn(facts),
    fits: named(facts, 'unit'),
    roles: named(facts, 'role'),
    gone: /^[^#\r\n]*(?:superseded-by:|status:[ \t]*["']?discontinued)/m.test(facts.piece.text),
  };
}

function named({ uses }: PieceFacts, kind: RefKind): readonly string[] {
  const ids = uses.filter((use) => use.kinds.includes(kind)).map((use) => use.id);
  return ids.length > 0 ? ids : NONE;
}

/** A name without quotes on a line of its own, as nearly all are. */
const PLAIN_NAME = /^[ \t]+name:[ \t]+([^\s"'&*!|>[\]{}%@`#-][^#\r\n]*?)[ \t]*$/m;

function nameIn({ piece }: PieceFacts): string {
  const plain = PLAIN_NAME.exec(piece.text)?.[1];
  if (plain !== undefined) return plain;
  const value = entryOf(piece)?.value;
  const name = value && pairOf(value, 'name')?.value;
  return name?.type === 'scalar' ? name.text : '';
}
