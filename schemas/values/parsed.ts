/**
 * The answer of every parser here: the value, or what is wrong with the text and what to write instead,
 * in words for the person who writes the file.
 */
export type Parsed<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly message: string };

export function accepted<T>(value: T): Parsed<T> {
  return { ok: true, value };
}

export function refused(message: string): { readonly ok: false; readonly message: string } {
  return { ok: false, message };
}
