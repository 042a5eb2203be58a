/** Text that somebody typed, made harmless for where it is shown. */

// Control characters move a terminal's cursor; marks of writing direction show text in another order than it is read.
const CONTROL = /[\p{Cc}\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069]+/gu;

/** On one line, without what a terminal would obey. */
export function oneLine(text: string): string {
  return text.replace(CONTROL, ' ').trim();
}
