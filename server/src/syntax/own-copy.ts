/** Shorter stretches the engine copies by itself. */
const SLICE_COPIES = 13;

/**
 * A stretch of a text as a string of its own. A plain `slice` of a file would keep the whole file in memory for as long
 * as one piece lives; joining two slices and then looking into the result makes the engine write the characters out.
 */
export function ownCopy(text: string, start: number, end: number): string {
  if (end - start < SLICE_COPIES) return text.slice(start, end);
  const joined = text.slice(start, start + 1) + text.slice(start + 1, end);
  joined.charCodeAt(0);
  return joined;
}
