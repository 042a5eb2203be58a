/** Words of the papers by language; a shop's own words come first. */
import { en } from './en.ts';
import { es } from './es.ts';

export type Word = keyof typeof en;
export type Words = Readonly<Record<Word, string>>;

const LANGUAGES: Readonly<Record<string, Words>> = { en, es };

/** Languages with words of their own; any other reads English, and what the shop has put in its place. */
export const SUPPLIED: readonly string[] = Object.keys(LANGUAGES);

export function wordsFor(
  locale: string,
  own: Readonly<Record<string, string>> = {},
): ReadonlyMap<string, string> {
  const language = LANGUAGES[new Intl.Locale(locale).language] ?? en;
  return new Map([...Object.entries(language), ...Object.entries(own)]);
}

/** Names that a shop has given words to and that no paper uses. */
export function strangers(own: Readonly<Record<string, string>> = {}): string[] {
  return Object.keys(own).filter((name) => !Object.hasOwn(en, name) && !/^(unit|condition)\./.test(name));
}
