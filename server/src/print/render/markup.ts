/** HTML in which every value is escaped, unless it is markup already. */
import { escape } from 'html-escaper';

export class Markup {
  readonly text: string;
  constructor(text: string) {
    this.text = text;
  }
}

type Value = string | number | Markup | readonly Markup[] | undefined | false;

export function html(strings: TemplateStringsArray, ...values: Value[]): Markup {
  return new Markup(strings.reduce((out, string, i) => out + string + (i < values.length ? shown(values[i]) : ''), ''));
}

/** Text that is known to be markup: a drawing of ours, a style sheet. */
export function trusted(text: string): Markup {
  return new Markup(text);
}

function shown(value: Value): string {
  if (value === undefined || value === false) return '';
  if (value instanceof Markup) return value.text;
  if (typeof value === 'object') return value.map((one) => one.text).join('\n');
  return escape(clean(String(value)));
}

/** Characters that have no place in a document, and those that turn the direction of what follows. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are the characters to take out
const UNPRINTABLE = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069\ufffe\uffff]/g;

export function clean(text: string): string {
  return text.replace(UNPRINTABLE, '').toWellFormed();
}
