/** HTML in which every value is escaped, unless it is markup already. */
import { escape as escaped } from 'html-escaper';

export class Markup {
  readonly text: string;
  constructor(text: string) {
    this.text = text;
  }
}

type Value = string | number | Markup | readonly Markup[] | undefined | false;

export function html(strings: TemplateStringsArray, ...values: Value[]): Markup {
  return new Markup(
    strings.reduce((out, string, i) => out + string + (i < values.length ? shown(values[i]) : ''), ''),
  );
}

/** Text that is known to be markup: a drawing of ours, a style sheet. */
export function trusted(text: string): Markup {
  return new Markup(text);
}

function shown(value: Value): string {
  if (value === undefined || value === false) return '';
  if (value instanceof Markup) return value.text;
  if (typeof value === 'object') return value.map((one) => one.text).join('\n');
  return escaped(clean(String(value)));
}

/** Characters that have no place in a document (all controls but tab and line ends), and those that turn the direction of what follows. */
const UNPRINTABLE = /(?![\t\n\r])\p{Cc}|[\u202a-\u202e\u2066-\u2069\ufffe\uffff]/gu;

export function clean(text: string): string {
  return text.toWellFormed().replace(UNPRINTABLE, '');
}
