/** Shorter stretches the engine copies by itself. */
const SLICE_COPIES = 13;

/**
 * A stretch of a text as a string of its own. A plain `slice` of a file would keep the whole file in memory for as long
 * as one piece lives. Joining two slices and then searching the result from its end makes the engine write it out; a
 * test holds it to that, because it is the engine's choice (it drops an `indexOf` here as being without effect).
 */
export function ownCopy(text: string, start: number, end: number): string {
  if (end - start < SLICE_COPIES) return text.slice(start, end);
  const joined = text.slice(start, start + 1) + text.slice(start + 1, end);
  joined.lastIndexOf('\n');
  return joined;
}
