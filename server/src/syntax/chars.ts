export const TAB = 9;
export const LF = 10;
export const CR = 13;
export const SPACE = 32;
export const HASH = 35;
export const COMMA = 44;
export const DASH = 45;
export const COLON = 58;

export function isBreak(ch: number): boolean {
  return ch === LF || ch === CR;
}

/** Marks with a meaning of their own at the start of a value (YAML 1.2.2, production 22, c-indicator). */
const INDICATORS = new Set([...'-?:,[]{}#&*!|>\'"%@`'].map((ch) => ch.charCodeAt(0)));

/** Whether a plain value or name can start here: no indicator, save a dash with words right after it. */
export function opensPlain(text: string, at: number): boolean {
  const ch = text.charCodeAt(at);
  if (ch > 127 || (ch >= 97 && ch <= 122)) return true;
  if (ch === DASH) {
    const next = text.charCodeAt(at + 1);
    return next > SPACE && next !== COMMA && next !== 91 && next !== 93 && next !== 123 && next !== 125;
  }
  return ch > SPACE && !INDICATORS.has(ch);
}
