import { distance } from 'fastest-levenshtein';

/** One slip in three letters, and never more than three: beyond that a guess reads like noise. */
export function slipsAllowed(length: number): number {
  return Math.min(3, Math.max(1, Math.floor(length / 3)));
}

/** How many slips lead from one word to another: letters left out, put in, changed, or two neighbours swapped. */
export function slipsBetween(a: string, b: string): number {
  const edits = distance(a, b);
  return edits === 2 && isSwap(a, b) ? 1 : edits;
}

function isSwap(a: string, b: string): boolean {
  if (a.length !== b.length) return false;
  let at = 0;
  while (a[at] === b[at]) at += 1;
  return a[at] === b[at + 1] && a[at + 1] === b[at] && a.slice(at + 2) === b.slice(at + 2);
}

/**
 * The candidates nearest to a word as typed, best first (letter case aside, by slips; equals in their own order).
 * Made for catalogs: a candidate whose length alone rules it out is not compared.
 */
export function didYouMean(word: string, candidates: Iterable<string>, most = 3): string[] {
  const typed = word.trim().toLowerCase();
  if (typed === '') return [];
  const found: { candidate: string; slips: number }[] = [];
  let limit = slipsAllowed(typed.length);
  for (const candidate of candidates) {
    if (Math.abs(candidate.length - typed.length) > limit) continue;
    const slips = slipsBetween(typed, candidate.toLowerCase());
    if (slips > limit) continue;
    let at = found.length;
    while (at > 0 && found[at - 1]!.slips > slips) at -= 1;
    found.splice(at, 0, { candidate, slips });
    if (found.length > most) found.pop();
    // With the list full, only a nearer one can still enter it.
    if (found.length === most) limit = Math.min(limit, found[most - 1]!.slips - 1);
    if (limit < 0) break;
  }
  return found.map((one) => one.candidate);
}

/** A sentence to end a message with: ` Did you mean "a" or "b"?`, or nothing when no candidate is near. */
export function suggestion(word: string, candidates: Iterable<string>): string {
  const near = didYouMean(word, candidates).map((candidate) => `"${candidate}"`);
  if (near.length === 0) return '';
  const last = near.pop();
  return ` Did you mean ${near.length > 0 ? `${near.join(', ')} or ` : ''}${last}?`;
}
