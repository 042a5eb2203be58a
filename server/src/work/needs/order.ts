/** What has to be done before what. */
import { WORK, type Work } from '../../../../schemas/kinds/labor.ts';
import type { Facts, LineFill } from '../facts.ts';

interface Place {
  readonly listed: number;
  readonly work: number;
}

/**
 * Whether the earlier work comes before the later one on the bench sheet, which goes by sort of work and then by the
 * order of lines. A part has no place in it.
 */
export function inOrder(first: string, next: string, facts: Facts): boolean {
  const earlier = placesOf(facts.roles.get(first) ?? [], facts);
  const later = placesOf(facts.roles.get(next) ?? [], facts);
  if (earlier.length === 0 || later.length === 0) return true;
  return earlier.some((a) => later.some((b) => a.listed <= b.listed || a.work < b.work));
}

const SORTS = Object.keys(WORK) as Work[];

function placesOf(fills: readonly LineFill[], facts: Facts): Place[] {
  return fills.flatMap(({ line, via }) => {
    const doing = line.does.find((one) => one.operation === via);
    return doing ? [{ listed: facts.input.lines.indexOf(line), work: SORTS.indexOf(doing.work) }] : [];
  });
}
