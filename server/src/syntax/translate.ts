import type { YAMLError } from 'yaml';
import { type Findings, isFirstOnLine, lineContent, lineStart, nextContent, quoted } from './finding.ts';
import type { Span } from './node.ts';
import { misplaced } from './screen.ts';

/** Errors that `screen` names itself, with a better place; the tags and directives it refuses are among them. */
const COVERED =
  /^Missing closing|must end with a|sufficiently indented and end|Implicit map keys need|Implicit keys need|Nested mappings are not|block sequence may not|^Missing directives-end|^Map comment with|^Unresolved tag|one tag/;

type Rule = readonly [pattern: RegExp, say: (found: Findings, text: string, at: number, end: number) => void];

const RULES: readonly Rule[] = [
  [
    /^Tabs are not allowed/,
    (found, text, at) => {
      const line = lineStart(text, at);
      const blanks = /^[ \t]*/.exec(text.slice(at))![0].length;
      const span = {
        start: text.indexOf('\t', text.slice(line, at).trim() === '' ? line : at),
        end: at + blanks,
      };
      // Where other lines use spaces, a tab taken for one space would put them out of line instead.
      const mixed = /^ +[^ \t\r\n#]/m.test(text);
      const repair = mixed ? { start: span.start, end: lineContent(text, at).end } : span;
      found.add(
        'yaml-tab-indent',
        span,
        'This line is set in with a tab. Use spaces: two for each level.',
        repair,
      );
    },
  ],
  [
    /same column|Sequence item without|must be indented|less indented/,
    (found, text, at) => misaligned(found, text, at),
  ],
  [
    /more-indented leading empty lines/,
    (found, text, at) =>
      found.add(
        'yaml-bad-indent',
        lineContent(text, at),
        'An empty line above this text is set in deeper than the text. Remove its spaces.',
      ),
  ],
  [
    /cannot start on same line/,
    (found, text, at) =>
      found.add(
        'yaml-second-document',
        lineContent(text, at),
        'After three dashes nothing may follow on the line. Move this to the next line.',
      ),
  ],
  [
    /^Comments must be separated/,
    (found, _text, at, end) =>
      found.add('yaml-comment-space', { start: at, end }, 'Put a space before this comment.'),
  ],
  [
    /^Missing ,|Missing space after :/,
    (found, text, at) =>
      found.add(
        'yaml-comma',
        onLine(text, nextContent(text, at), at),
        'A comma is missing before this item.',
      ),
  ],
  [
    /^Unexpected (, |empty item)/,
    (found, _text, at) =>
      found.add(
        'yaml-comma',
        { start: at, end: at + 1 },
        'There is no item between these commas. Delete one comma.',
      ),
  ],
  [
    /lock scalar header|^Not a YAML token/,
    (found, text, at) =>
      found.add(
        'yaml-block-text',
        onLine(text, { start: at, end: lineContent(text, at).end }, at),
        'After | or > the text starts on the next line. Move this there.',
      ),
  ],
  [
    /block-seq-ind on same line|Unexpected seq-item-ind/,
    (found, text, at) =>
      found.add(
        'yaml-dash-place',
        { start: at, end: lineContent(text, at).end },
        'A list made of dashes starts on the line after its name.',
        { start: at, end: at + 1 },
      ),
  ],
  [
    /^Unexpected flow-(seq|map)-end/,
    (found, text, at) =>
      found.add(
        'yaml-stray-bracket',
        { start: at, end: at + 1 },
        `This ${text[at]} has no opening bracket. Delete it, or put the text in quotes.`,
        { start: at, end: at + 1 },
      ),
  ],
  [
    /^Unexpected .*(at node end|in YAML (stream|document))|^Unexpected .* token$/,
    (found, text, at) => {
      if (isFirstOnLine(text, at)) return misaligned(found, text, at);
      const span = { start: at, end: lineContent(text, at).end };
      if (text[at] === ':')
        found.add('yaml-missing-space', span, 'Put a space after this colon.', lineContent(text, at));
      else
        found.add(
          'yaml-text-after-value',
          span,
          `${quoted(text.slice(span.start, span.end))} stands after the end of the value. Put the whole value in quotes, or delete it.`,
          span,
        );
    },
  ],
  [
    /^Plain value cannot start/,
    (found, text, at) => {
      const span = { start: at, end: lineContent(text, at).end };
      found.add(
        'yaml-reserved-start',
        span,
        `A value cannot start with ${text[at]} here. Put ${quoted(text.slice(span.start, span.end))} in quotes.`,
      );
    },
  ],
  [
    /^Invalid escape/,
    (found, text, at) =>
      found.add(
        'yaml-bad-escape',
        { start: at, end: Math.min(at + 2, text.length) },
        `${quoted(text.slice(at, at + 2))} is not a known code. Write \\\\ for a backslash, or use single quotes.`,
      ),
  ],
  [
    /^The : indicator must be/,
    (found, _text, at, end) =>
      found.add(
        'yaml-long-key',
        { start: at, end },
        'This name is longer than 1024 characters. Look for a missing colon or quote.',
      ),
  ],
  [
    /^Block collections are not allowed/,
    (found, text, at, end) =>
      found.add(
        'yaml-block-in-brackets',
        { start: at, end },
        `${quoted(text.slice(at, end))} needs a comma between its items, or brackets of its own.`,
      ),
  ],
  [
    /[Aa]nchor|[Aa]lias/,
    (found, _text, at, end) =>
      found.add(
        'yaml-anchor',
        { start: at, end },
        'A mark such as &name stands once before the value it names, and *name stands alone.',
      ),
  ],
];

/** Says a `yaml` package error in our words, unless `screen` has said it already. */
export function translate(text: string, error: YAMLError, found: Findings): void {
  if (COVERED.test(error.message)) return;
  const at = Math.min(error.pos[0], text.length);
  const end = Math.min(Math.max(error.pos[1], at), text.length);
  const rule = RULES.find(([pattern]) => pattern.test(error.message));
  if (rule) rule[1](found, text, at, end);
  else
    found.add(
      'yaml-syntax',
      onLine(text, { start: at, end }, at),
      'This cannot be read here. Look for a missing quote, colon or space just above.',
    );
}

function misaligned(found: Findings, text: string, at: number): void {
  misplaced(text, lineContent(text, nextContent(text, at).start), found);
}

/** The part of `span` on the line of `at`; the one place `at` when there is none. */
function onLine(text: string, span: Span, at: number): Span {
  const end = Math.min(span.end, lineContent(text, at).end);
  return span.start < end ? { start: span.start, end } : { start: at, end: at };
}
