/** Text for a cell of a spreadsheet. */

/** Signs that begin a formula, in their full-width forms too (OWASP, CSV injection). */
const FORMULA = /^[=+\-@\t\r\n＝＋－＠]/;

/** Text that a spreadsheet would take for a formula begins with an apostrophe. */
export function harmless(text: string): string {
  return FORMULA.test(text.trimStart()) || FORMULA.test(text) ? `'${text}` : text;
}
