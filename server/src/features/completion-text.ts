/** Small questions about a line of half-written text. Offsets; `end` is the end of the line. */

/** Before the line break that ends the line. */
export function endOfLine(text: string, from: number): number {
  let at = from;
  while (at < text.length && text[at] !== '\n' && text[at] !== '\r') at++;
  return at;
}

/** The start of the line after one that ends at `end`; -1 when it is the last. */
export function nextLine(text: string, end: number): number {
  if (end >= text.length) return -1;
  return text[end] === '\r' && text[end + 1] === '\n' ? end + 2 : end + 1;
}

export function startOfLine(text: string, from: number): number {
  let at = from;
  while (at > 0 && text[at - 1] !== '\n' && text[at - 1] !== '\r') at--;
  return at;
}

/** Whether there is a space, a tab or nothing at all. */
export function isBlank(text: string, at: number, end: number): boolean {
  return at >= end || text[at] === ' ' || text[at] === '\t';
}

export function skipBlanks(text: string, from: number, end: number): number {
  let at = from;
  while (at < end && (text[at] === ' ' || text[at] === '\t')) at++;
  return at;
}

/** Where text without quotes ends: before a comment, without the blanks around it. */
export function plainEnd(text: string, from: number, end: number): number {
  let last = from;
  for (let at = from; at < end; at++) {
    if (isBlank(text, at, end)) continue;
    if (text[at] === '#' && at > from && isBlank(text, at - 1, end)) break;
    last = at + 1;
  }
  return last;
}

/** Offset of the quote that closes the one at `open`, on the same line; -1 when there is none. */
export function quoteEnd(text: string, open: number, end: number, mark = text[open]): number {
  for (let at = open + 1; at < end; at++) {
    if (mark === '"' && text[at] === '\\') at++;
    else if (text[at] === mark) {
      if (mark !== "'" || text[at + 1] !== "'") return at;
      at++;
    }
  }
  return -1;
}
