import type { SyntaxProblem } from './node.ts';

/** One page of `explain`: a stable code with what it means, an example that causes it, and the same text mended. */
export interface SyntaxCode {
  readonly code: string;
  readonly title: string;
  readonly explanation: string;
  readonly bad: string;
  readonly mend: string;
}

const page = (code: string, title: string, explanation: string, bad: string, mend: string): SyntaxCode => ({
  code,
  title,
  explanation,
  bad,
  mend,
});

/** Every code this layer can report. A test reads each `bad` and expects the code, and each `mend` and expects silence. */
export const SYNTAX_CODES: readonly SyntaxCode[] = [
  page(
    'yaml-tab-indent',
    'Tab at the start of a line',
    'Lines are set in with spaces only. A tab looks the same but has no agreed width, so it is not accepted before the first word of a line.',
    'P-1:\n\tname: Pan gasket\n',
    'P-1:\n  name: Pan gasket\n',
  ),
  page(
    'yaml-bad-indent',
    'Line set in by the wrong amount',
    'Lines that belong together start at the same column, and what belongs to a name is set in deeper than that name.',
    'P-1:\n  name: Pan gasket\n   cost: 4.10\n',
    'P-1:\n  name: Pan gasket\n  cost: 4.10\n',
  ),
  page(
    'yaml-uneven-indent',
    'Entry set in unlike its neighbours',
    'The entries of a catalog all start at the same column. One that does not is still read, but should be lined up.',
    'parts:\n  P-1:\n    cost: 4.10\n   P-2:\n    cost: 1.00\n  P-3:\n    cost: 2.00\n',
    'parts:\n  P-1:\n    cost: 4.10\n  P-2:\n    cost: 1.00\n  P-3:\n    cost: 2.00\n',
  ),
  page(
    'yaml-missing-colon',
    'Line without a colon',
    'A line here gives a name, a colon, a space and a value. Without the colon it cannot be told which is which.',
    'P-1:\n  name Pan gasket\n  cost: 4.10\n',
    'P-1:\n  name: Pan gasket\n  cost: 4.10\n',
  ),
  page(
    'yaml-missing-space',
    'No space after the colon',
    'The colon after a name is followed by a space. `cost:4.10` is one word, as a time of day or a web address would be.',
    'P-1:\n  name: Pan gasket\n  cost:4.10\n',
    'P-1:\n  name: Pan gasket\n  cost: 4.10\n',
  ),
  page(
    'yaml-missing-name',
    'No name before the colon',
    'Every value has a name in front of its colon.',
    'P-1:\n  : 4.10\n',
    'P-1:\n  cost: 4.10\n',
  ),
  page(
    'yaml-colon-in-value',
    'Value with a colon in it',
    'A colon followed by a space starts a value. A text that contains one is put in quotes.',
    'P-1:\n  name: Gasket: pan\n',
    'P-1:\n  name: "Gasket: pan"\n',
  ),
  page(
    'yaml-unclosed-quote',
    'Quote that is not closed',
    'A text that begins with a quote ends with the same quote. An apostrophe in single quotes is written twice.',
    'P-1:\n  name: "Pan gasket\n  cost: 4.10\n',
    'P-1:\n  name: "Pan gasket"\n  cost: 4.10\n',
  ),
  page(
    'yaml-unclosed-bracket',
    'Bracket that is not closed',
    'A list in `[ ]` and a group in `{ }` end with the matching bracket.',
    'P-1:\n  fits: [HX4, HX6\n  cost: 4.10\n',
    'P-1:\n  fits: [HX4, HX6]\n  cost: 4.10\n',
  ),
  page(
    'yaml-stray-bracket',
    'Closing bracket with no opening one',
    'A closing bracket needs an opening one before it.',
    'P-1:\n  fits: [HX4, HX6]]\n',
    'P-1:\n  fits: [HX4, HX6]\n',
  ),
  page(
    'yaml-comma',
    'Comma missing or too many',
    'Between two items in `[ ]` or `{ }` stands one comma.',
    'P-1:\n  fits: [HX4, , HX6]\n',
    'P-1:\n  fits: [HX4, HX6]\n',
  ),
  page(
    'yaml-text-after-value',
    'Text after the end of a value',
    'After a closing quote or bracket nothing more may stand on the line, except a comment.',
    'P-1:\n  name: "Pan" gasket\n',
    'P-1:\n  name: "Pan gasket"\n',
  ),
  page(
    'yaml-comment-space',
    'No space before a comment',
    'A comment is a `#` with a space before it.',
    'P-1:\n  name: "Pan gasket"# steel\n',
    'P-1:\n  name: "Pan gasket" # steel\n',
  ),
  page(
    'yaml-reserved-start',
    'Value starts with a reserved character',
    'A value that starts with one of @ ` % , | > has a special meaning or none yet. Put it in quotes.',
    'P-1:\n  name: @home kit\n',
    'P-1:\n  name: "@home kit"\n',
  ),
  page(
    'yaml-bad-escape',
    'Unknown code after a backslash',
    'Inside double quotes a backslash starts a code such as \\n or \\". Write \\\\ for a backslash, or use single quotes.',
    'P-1:\n  name: "1\\4 pipe plug"\n',
    "P-1:\n  name: '1\\4 pipe plug'\n",
  ),
  page(
    'yaml-block-text',
    'First line of a long text',
    'After | or > nothing may follow on the line but +, -, one digit or a comment; the text starts on the next line.',
    'P-1:\n  note: | steel\n    or cork\n',
    'P-1:\n  note: |\n    steel\n    or cork\n',
  ),
  page(
    'yaml-dash-place',
    'List on the line of its name',
    'A list made of dashes starts on the line after its name.',
    'P-1:\n  fits: - HX4\n',
    'P-1:\n  fits:\n    - HX4\n',
  ),
  page(
    'yaml-block-in-brackets',
    'Dashes or nested names inside brackets',
    'Inside `[ ]` and `{ }` items are separated by commas; a nested group needs its own brackets.',
    'P-1:\n  size: {width: 1 height: 2}\n',
    'P-1:\n  size: {width: 1, height: 2}\n',
  ),
  page(
    'yaml-duplicate-key',
    'Name given twice',
    'A name stands once in its group. When it stands twice the first one counts, and the second is reported.',
    'P-1:\n  cost: 4.10\n  cost: 4.25\n',
    'P-1:\n  cost: 4.25\n',
  ),
  page(
    'yaml-key-not-text',
    'Name that is a list or a group',
    'The name before a colon is a single text, not a list or a group.',
    'P-1:\n  [a, b]: 1\n',
    'P-1:\n  "a, b": 1\n',
  ),
  page(
    'yaml-long-key',
    'Name over 1024 characters',
    'The colon stands within 1024 characters of the start of its name. A longer name is usually a missing colon or a missing quote.',
    `P-1:\n  ${'long '.repeat(210)}: 1\n`,
    'P-1:\n  long: 1\n',
  ),
  page(
    'yaml-explicit-key',
    'Question mark before a name',
    'Names are written as `name: value`. The form with `?` is not used in shop books.',
    '? P-1\n: cost: 4.10\n',
    'P-1:\n  cost: 4.10\n',
  ),
  page(
    'yaml-second-document',
    'More than one document in a file',
    'A file holds one set of data. A line of three dashes may only be the first line.',
    'kind: parts\n---\nkind: labor\n',
    'kind: parts\n',
  ),
  page(
    'yaml-document-end',
    'Line of three dots',
    'A line of three dots ends a document. A file holds one set of data, so it is not needed.',
    'kind: parts\n...\n',
    'kind: parts\n',
  ),
  page(
    'yaml-directive',
    'Line that starts with a percent sign',
    'A first line such as `%YAML 1.2` is not used in shop books.',
    '%YAML 1.2\n---\nkind: parts\n',
    'kind: parts\n',
  ),
  page(
    'yaml-tag',
    'Exclamation mark before a value',
    'A word that starts with ! names a data type. Shop books know the type of each field already. A text that starts with ! is put in quotes.',
    'P-1:\n  cost: !!float 4.10\n',
    'P-1:\n  cost: 4.10\n',
  ),
  page(
    'yaml-anchor',
    'Anchor or alias in the wrong place',
    'A mark such as &name stands once before the value it names, with a space after it; *name stands alone.',
    'P-1:\n  cost: &a &b 4.10\n',
    'P-1:\n  cost: &a 4.10\n',
  ),
  page(
    'yaml-unknown-alias',
    'Nothing marked with this name',
    '`*name` repeats the value marked `&name` earlier in the same file. A text that starts with * is put in quotes. In a file of more than 250,000 characters the mark has to be in the same entry.',
    'P-1:\n  cost: *usual\n',
    'P-1:\n  cost: "*usual"\n',
  ),
  page(
    'yaml-alias-limit',
    'Repeats that repeat too much',
    'Values repeated with *name may add up to 10,000 values in all. Above that the file is not unfolded further.',
    `a: &a [${'x,'.repeat(999)}x]\n${Array.from({ length: 11 }, (_, i) => `b${i}: *a\n`).join('')}`,
    'a: &a [x, x]\nb0: *a\n',
  ),
  page(
    'yaml-merge-key',
    'Merging with <<',
    'Pouring one group into another with `<<` is not supported, because it hides where a price came from. Write the fields out, or use a template.',
    'P-1: &usual\n  supplier: north\nP-2:\n  <<: *usual\n',
    'P-1:\n  supplier: north\nP-2:\n  supplier: north\n',
  ),
  page(
    'yaml-control-character',
    'Invisible control character',
    'A character that cannot be printed is in the text, usually left by copying from another program. Delete it.',
    'P-1:\n  name: Pan\u0007 gasket\n',
    'P-1:\n  name: Pan gasket\n',
  ),
  page(
    'yaml-too-deep',
    'Too many levels',
    'Groups and lists may stand inside each other up to 64 levels deep.',
    `a: ${'['.repeat(70)}${']'.repeat(70)}\n`,
    'a: [[]]\n',
  ),
  page(
    'yaml-long-value',
    'Value over 65,536 characters',
    'One value may have up to 65,536 characters. A longer one usually comes from a quote that is closed much later; what is beyond is not read.',
    `a: ${'x'.repeat(65_537)}\n`,
    'a: x\n',
  ),
  page(
    'yaml-too-large',
    'Block over 250,000 characters',
    'A single entry or block of more than 250,000 characters is read only when it is plain: one name and value on a line, no values over several lines.',
    `a:\n  - "x\n    y"\n${'  - x\n'.repeat(43_000)}`,
    'a: "x y"\n',
  ),
  page(
    'yaml-section-text',
    'Text on the line of a catalog',
    'The line that opens a catalog ends with its colon; the entries follow below it.',
    'parts: some\n  P-1:\n    cost: 4.10\n',
    'parts:\n  P-1:\n    cost: 4.10\n',
  ),
  page(
    'yaml-syntax',
    'Text that cannot be read here',
    'The text at this place does not fit what stands before it. Look for a missing quote, colon or space just above.',
    'P-1:\n  size: {width: : 2}\n',
    'P-1:\n  size: {width: 2}\n',
  ),
];

export function problem(code: string, start: number, end: number, message: string): SyntaxProblem {
  return { code, start, end, message };
}
