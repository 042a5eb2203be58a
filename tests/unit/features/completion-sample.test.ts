/** The sample book, word by word: what is cut out of it is offered again, and nothing that is broken in it breaks completion or hover. */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { isoDate } from '../../../schemas/values/dates.ts';
import type { Book } from '../../../server/src/book/book.ts';
import { folderUri, readFolder } from '../../../server/src/book/disk.ts';
import { declarationFor } from '../../../server/src/book/facts.ts';
import type { BookFile } from '../../../server/src/book/file.ts';
import { visit } from '../../../server/src/book/marks.ts';
import { Workspace } from '../../../server/src/book/workspace.ts';
import { Estimates } from '../../../server/src/estimate/estimates.ts';
import { complete } from '../../../server/src/features/completion.ts';
import { hover } from '../../../server/src/features/hover.ts';
import type { Position } from '../../../server/src/syntax/lines.ts';
import { entriesOf } from '../../../server/src/syntax/piece.ts';
import { applied, CLIENT } from './completion-shown.ts';

const SAMPLE = new URL('../../../samples/quarrow-creek', import.meta.url).pathname;
/** Every so many words of the book are tried. */
const STEP = 29;

interface Word {
  readonly file: BookFile;
  readonly start: Position;
  readonly end: Position;
}

let book: Book;
let estimates: Estimates;

beforeAll(() => {
  const workspace = new Workspace([folderUri(SAMPLE)], { read: () => undefined, size: () => 1 });
  workspace.load(readFolder(SAMPLE).texts);
  book = workspace.books[0]!;
  estimates = new Estimates(book);
}, 60_000);

/** Words of choices, answers and ids that are named, where they stand. */
function* wordsOf(file: BookFile): IterableIterator<Word> {
  const SAYING = ['reference', 'choice', 'yes-no'];
  for (const piece of file.source.pieces()) {
    for (const entry of entriesOf(piece, file.splitKeys)) {
      const declared = declarationFor(file.kind!, entry);
      if (!declared || declared.catalog) continue;
      const words: Word[] = [];
      visit(declared.schema, entry.value, {
        value: (node, _schema, meta) => {
          if (node.type === 'scalar' && SAYING.includes(meta.scalar ?? '') && !node.text.startsWith('$'))
            words.push({ file, ...file.source.rangeOf(piece, node) });
        },
      });
      yield* words;
    }
  }
}

const ask = (file: BookFile, position: Position) =>
  complete({ estimates, file, position, today: isoDate('2026-03-04'), client: CLIENT });

describe('the sample book', () => {
  it('has every word offered again before its last letter is typed', () => {
    const missed: string[] = [];
    const words = [...book.files()].flatMap((file) => [...wordsOf(file)]);
    for (const { file, start, end } of words.filter((_, i) => i % STEP === 0)) {
      const text = file.source.text();
      const row = text.split('\n')[start.line]!;
      const word = row.slice(start.character, end.character);
      const found = [0, Math.ceil(word.length / 2), word.length - 1].some((length) => {
        const line = row.slice(0, start.character + length) + row.slice(end.character);
        const cut = text.split('\n').with(start.line, line).join('\n');
        book.put(file.uri, cut);
        const { items } = ask(file, { line: start.line, character: start.character + length });
        return items.some((item) => unquoted(applied(cut, item)) === unquoted(text));
      });
      if (!found) missed.push(`${file.uri.slice(file.uri.lastIndexOf('/') + 1)}:${start.line + 1} ${word}`);
      book.put(file.uri, text);
    }
    expect(words.length).toBeGreaterThan(1000);
    expect(missed).toEqual([]);
  }, 120_000);

  it('has something to tell of every id that is named', () => {
    const silent: string[] = [];
    const words = [...book.files()].flatMap((file) => [...wordsOf(file)]);
    for (const { file, start } of words.filter((_, i) => i % STEP === 7)) {
      const told = hover({ estimates, file, position: start, today: isoDate('2026-03-04'), markdown: true });
      if (!told) silent.push(`${file.uri.slice(file.uri.lastIndexOf('/') + 1)}:${start.line + 1}`);
    }
    expect(silent).toEqual([]);
  }, 120_000);
});

/** A number may be quoted where it need not be. */
function unquoted(text: string): string {
  return text.replaceAll(/["']/g, '');
}

const BITS = [
  '"',
  "'",
  '[',
  ']',
  '{',
  '}',
  ':',
  ': ',
  '- ',
  '\n',
  '\n  ',
  '\r\n',
  ' ',
  '#',
  ' # ',
  'x',
  '\t',
  '|',
  '>\n',
  '&a ',
  '*a',
  '🚗',
  '$',
  ',',
  '?',
  '%',
  '---\n',
];

describe('a broken file', () => {
  const job = () => readFileSync(`${SAMPLE}/jobs/J-1042.job.yaml`, 'utf8').slice(0, 6000);

  it('never breaks completion or hover, and what is offered replaces text of one line around the cursor', () => {
    const uri = `${book.root}jobs/broken.job.yaml`;
    const base = job();
    const edit = fc.record({
      at: fc.nat(base.length),
      gone: fc.nat(30),
      put: fc.array(fc.constantFrom(...BITS), { maxLength: 3 }),
    });
    fc.assert(
      fc.property(fc.array(edit, { minLength: 1, maxLength: 4 }), fc.nat(), (edits, where) => {
        let text = base;
        for (const { at, gone, put } of edits)
          text = text.slice(0, at) + put.join('') + text.slice(at + gone);
        book.put(uri, text);
        const file = book.file(uri)!;
        const place = file.source.placeOf(where % (text.length + 1));
        const position = file.source.positionOf(place.index, place.offset);
        hover({ estimates, file, position, markdown: true });
        for (const { textEdit } of ask(file, position).items) {
          const { start, end } = (textEdit as { range: { start: Position; end: Position } }).range;
          expect([start.line, end.line]).toEqual([position.line, position.line]);
          expect(start.character).toBeLessThanOrEqual(position.character);
          expect(end.character).toBeGreaterThanOrEqual(position.character);
        }
      }),
      { numRuns: 150 },
    );
    book.remove(uri);
  }, 120_000);
});
