import { type Finding, Findings } from './finding.ts';

/** What YAML 1.2.2 does not call printable (production 1, c-printable), apart from halves of surrogate pairs. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: finding them is the purpose
const CONTROL = /[\0-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\ufffe\uffff]/;
const CONTROL_OR_HALF = new RegExp(
  `${CONTROL.source}|[\\ud800-\\udbff](?![\\udc00-\\udfff])|(?<![\\ud800-\\udbff])[\\udc00-\\udfff]`,
  'g',
);

export function hasControl(text: string): boolean {
  return CONTROL.test(text) || !text.isWellFormed();
}

/**
 * The text with each unprintable character replaced by U+FFFD, so that the package never meets the ones it uses as
 * its own marks, and with each lone carriage return as a line feed, which YAML calls a line break and the package does not.
 * Offsets stay as they are.
 */
export function clean(text: string): { text: string; findings: Finding[] } {
  const found = new Findings();
  let out = text;
  if (hasControl(text))
    out = text.replace(CONTROL_OR_HALF, (ch, at: number) => {
      found.add(
        'yaml-control-character',
        { start: at, end: at + 1 },
        `A character that cannot be printed (code ${ch.charCodeAt(0).toString(16).toUpperCase()}) stands here. Delete it.`,
      );
      return '\ufffd';
    });
  return { text: out.replace(/\r(?!\n)/g, '\n'), findings: found.list };
}
