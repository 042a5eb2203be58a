/** The page of every code that this layer gives, but for chains of superseded numbers, which have theirs in `pricing`. */
import { KINDS } from '../../../schemas/index.ts';
import type { CodePage } from '../../../schemas/problem.ts';

export const CODES: readonly CodePage[] = [
  {
    code: 'unknown-kind',
    title: 'The file is of no kind',
    why: 'Nothing in it is read: its parts, prices or lines are missing from the book.',
    example: 'kind: prats\nparts: {}\n',
    mend: `Begin the file with "kind:" and one of: ${KINDS.map(({ kind }) => kind).join(', ')}.`,
  },
  {
    code: 'unknown-key',
    title: 'A field that is not known',
    why: 'What is written under it has no effect, so a price or a rule may be missing without anybody noticing.',
    example: 'kind: parts\nparts:\n  P-1:\n    name: Pan gasket\n    kind: soft\n    csot: 4.10\n',
    mend: 'Mend the word, or move the line to where it belongs. A field of your own begins with "x-".',
  },
  {
    code: 'missing-field',
    title: 'A field is missing',
    why: 'Without it the entry cannot be used, and whatever names the entry goes without it.',
    example: 'kind: parts\nparts:\n  P-1:\n    kind: soft\n    cost: 4.10\n',
    mend: 'Write the field; the message says what it is for.',
  },
  {
    code: 'empty-value',
    title: 'Nothing where a value belongs',
    why: 'It cannot be told whether none is meant or the value was forgotten.',
    example: 'kind: parts\nparts:\n  P-1:\n    name: Pan gasket\n    kind: soft\n    cost:\n',
    mend: 'Write the value, or take the line out.',
  },
  {
    code: 'wrong-shape',
    title: 'A list, a single value or fields in the wrong place',
    why: 'The value is left out, because what it is meant to say cannot be told.',
    example: 'kind: parts\nparts:\n  P-1:\n    name: Pan gasket\n    kind: soft\n    fits: birch-6\n',
    mend: 'Write it in the form that the message names: one value, a list, or fields set in under the name.',
  },
  {
    code: 'wrong-value',
    title: 'A value that cannot be read',
    why: 'The value is left out; a guess at an amount or a date could cost money.',
    example: 'kind: shop\nsublet: { markup: 20 }\n',
    mend: 'Write it as the message shows: amounts 12.50, percentages 6.5%, dates 2026-03-14, quantities with their unit.',
  },
  {
    code: 'wrong-word',
    title: 'A word that is not one of the list',
    why: 'The field takes a few words, each with its own meaning; any other has none.',
    example: 'kind: parts\nparts:\n  P-1:\n    name: Pan gasket\n    kind: sfot\n',
    mend: 'Take one of the words that the message, or completion, offers.',
  },
  {
    code: 'unclear-entry',
    title: 'A line that does not say what it is',
    why: 'A line is a part, an operation, a fee and so on; without the word it is left out of the estimate.',
    example: 'kind: job\nid: J-1\nopened: 2026-03-02\nunit: birch-6\nlines:\n  - quantity: 2\n',
    mend: 'Begin the line with one of the words that the message lists, such as "part:".',
  },
  {
    code: 'unknown-reference',
    title: 'An id that nothing has',
    why: 'What is meant cannot be found, so it has no price, no hours and no rule.',
    example: 'kind: job\nid: J-1\nopened: 2026-03-02\nunit: birch-6\nlines:\n  - part: PUMP-11\n',
    mend: 'Mend the id, or add the entry that it names to the book.',
  },
  {
    code: 'defined-twice',
    title: 'One id for two entries',
    why: 'Only the first counts, by the name of the file; a job may be priced by the one that was not meant.',
    example:
      '# old.parts.yaml has a PUMP-1 as well.\nkind: parts\nparts:\n  PUMP-1: { name: Pump, kind: hard }\n',
    mend: 'Keep one of the two, or give one another id.',
  },
  {
    code: 'shop-extends',
    title: 'A shop file that cannot be extended',
    why: 'What it was to hold is missing: rates, schedules, fees.',
    example: 'kind: shop\nextends: ../comon/shop.yaml\n',
    mend: 'Name a shop file of this book, relative to this one. No file may come back to itself.',
  },
  {
    code: 'price-file',
    title: "A supplier's price file with something wrong in it",
    why: 'The rows that are told, or all of them, are missing from the book.',
    example: 'kind: parts\nfrom:\n  file: north.csv\n  columns: { number: Item }\n  kind: soft\n',
    mend: 'Mend the file, its name, or the headings under "columns:"; the message says which.',
  },
  {
    code: 'file-missing',
    title: 'A picture or a video that is not there',
    why: 'The page for the customer has an empty place where the evidence belongs.',
    example: 'kind: parts\nparts:\n  P-1: { name: Pan gasket, kind: soft, picture: gasket.jpg }\n',
    mend: 'Put the file into the book and name it relative to this file. Pictures are at most 20 MB.',
  },
  {
    code: 'own-field-place',
    title: 'A field of the shop where it does not belong',
    why: 'The shop file says which entries have the field; elsewhere nobody looks for it, and it is not printed.',
    example:
      'kind: job\nid: J-1\nopened: 2026-03-02\nunit: birch-6\nown:\n  shelf: B4   # `shelf` is on: [part]\n',
    mend: 'Move it to an entry that has the field, or add this kind of entry to its `on` in the shop file.',
  },
  {
    code: 'own-field-value',
    title: 'A value that a field of the shop cannot have',
    why: 'The field has a type, so that rules can ask for its value and papers can print it.',
    example:
      'kind: job\nid: J-1\nopened: 2026-03-02\nunit: birch-6\nown:\n  bay: lift-9   # the shop has lift-1 and lift-2\n',
    mend: 'Write a value as the message says, or change the field under `fields` in the shop file.',
  },
];
