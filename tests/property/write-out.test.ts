/** Templates written out, and lines made into templates: the job comes to the same, to the cent. On the sample book. */
import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import type { CodeAction, TextDocumentEdit, TextEdit } from 'vscode-languageserver-types';
import { isoDate } from '../../schemas/values/dates.ts';
import type { BookFile } from '../../server/src/book/file.ts';
import { codeActions } from '../../server/src/features/actions/index.ts';
import { openSample } from '../unit/sample/sample.ts';

const { book, estimates } = openSample();
const TODAY = isoDate('2026-03-05');

/** Every total and every line of every option, as digits. */
function totals(file: BookFile): string[] {
  const estimate = estimates.of(file)!;
  return [
    ...estimate.options.map(
      ({ id, priced }) =>
        `${id}: ${priced.total.value} of ${priced.lines.length} lines: ${priced.lines.map(({ amount }) => amount.value).join(' ')}`,
    ),
  ];
}

function edit(file: BookFile, edits: readonly TextEdit[]): void {
  book.edit(
    file.uri,
    edits.map(({ range, newText }) => ({ range, text: newText })),
  );
}

function actionAt(file: BookFile, line: number, title: RegExp, endLine = line): CodeAction | undefined {
  const end = endLine === line ? { line, character: 12 } : { line: endLine, character: 0 };
  return codeActions(estimates, file, { start: { line, character: 12 }, end }, TODAY).find((one) =>
    title.test(one.title),
  );
}

const callLines = (text: string) =>
  text.split('\n').flatMap((line, i) => (/^\s*- template: /.test(line) ? [i] : []));

describe('of every job of the sample', () => {
  it.each([...book.filesOf('job')].map((file) => [String(file.value.id), file] as const))(
    '%s',
    (_id, file) => {
      const original = file.source.text();
      const before = totals(file);
      const comments = original.match(/#.*/g) ?? [];
      let written = 0;
      // From the end, so that lines above keep their place.
      for (const line of callLines(original).reverse()) {
        const action = actionAt(file, line, /^Write out the /);
        expect(action, `line ${line + 1}`).toBeDefined();
        edit(file, action!.edit!.changes![file.uri]!);
        written++;
      }
      const text = file.source.text();
      expect(totals(file)).toEqual(before);
      expect(callLines(text)).toEqual([]);
      for (const comment of comments) expect(text).toContain(comment.trim());
      if (written === 0) expect(text).toBe(original);
      book.put(file.uri, original);
    },
  );
});

const HEAD = `kind: job
id: J-9
opened: 2026-03-02
unit: birch-6
vehicle: { drive: fwd }
findings: { coolant-in-fluid: yes, radiator-leaks-inside: yes }
lines:
`;
const call = fc
  .record({
    template: fc.constantFrom('cooler-proof', 'coolant-overhaul', 'exchange-unit', 'fluid-service'),
    frictions: fc.constantFrom(undefined, 'FR-B6', 'FR-B6-HD'),
    loss: fc.constantFrom(undefined, '1 qt', '2.5 qt'),
    without: fc.boolean(),
    change: fc.boolean(),
    comment: fc.constantFrom('', '  # "as" agreed'),
    braces: fc.boolean(),
  })
  .map(({ template, frictions, loss, without, change, comment, braces }) => {
    const given: Record<string, Record<string, string | undefined>> = {
      'cooler-proof': {},
      'coolant-overhaul': { radiator: 'RAD-7120', frictions, loss },
      'exchange-unit': { unit: 'EX-B6', fluid: 'ATF-B', loss },
      'fluid-service': { fluid: 'ATF-B', filter: 'FL-B6-2', gasket: 'PG-B6' },
    };
    const values = Object.entries(given[template]!).flatMap(([key, value]) =>
      value === undefined ? [] : [`${key}: ${value}`],
    );
    const out = without && template === 'coolant-overhaul' ? '[ST-B6, fit-radiator]' : undefined;
    const differs =
      change && template === 'coolant-overhaul'
        ? '{ OH-B6: { quantity: 2, note: "twice # so" } }'
        : undefined;
    if (braces)
      return `  - { template: ${template}${values.length > 0 ? `, with: { ${values.join(', ')} }` : ''}${out ? `, without: ${out}` : ''}${differs ? `, change: ${differs}` : ''} }${comment}\n`;
    return [
      `  - template: ${template}${comment}`,
      ...(values.length > 0 ? ['    with:', ...values.map((one) => `      ${one}${comment}`)] : []),
      ...(out ? [`    without: ${out}`] : []),
      ...(differs ? [`    change: ${differs}`] : []),
      '',
    ].join('\n');
  });
const own = fc.constantFrom(
  '  - part: TC-B6-R   # the usual\n',
  '  - operation: rr-unit\n',
  '  - fee: waste\n',
);

test('written out, and made into a template again, a job comes to the same', () => {
  fc.assert(
    fc.property(
      fc.array(fc.oneof(call, own), { minLength: 1, maxLength: 5 }),
      fc.boolean(),
      (lines, crlf) => {
        const text = `${HEAD}${lines.join('')}`;
        const uri = `${book.root}jobs/J-9.job.yaml`;
        book.put(uri, crlf ? text.replaceAll('\n', '\r\n') : text);
        const file = book.file(uri)!;
        const before = totals(file);
        const places = text
          .split('\n')
          .flatMap((line, i) => (/^ {2}- (\{ )?template: /.test(line) ? [i] : []));
        for (const line of places.reverse())
          edit(file, actionAt(file, line, /^Write out the /)!.edit!.changes![file.uri]!);
        const written = file.source.text();
        expect(written).not.toContain('template:');
        expect(totals(file)).toEqual(before);
        if (crlf) expect(written.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
        for (const comment of text.match(/# ("as" agreed|the usual)/g) ?? [])
          expect(written).toContain(comment);

        const count = written.split('\n').length - 1;
        const back = actionAt(file, HEAD.split('\n').length - 1, /^Make a template of /, count)!;
        const created: string[] = [];
        for (const change of back.edit!.documentChanges as TextDocumentEdit[]) {
          if (!('textDocument' in change)) continue;
          if (change.textDocument.uri === uri) edit(file, change.edits as TextEdit[]);
          else {
            book.put(change.textDocument.uri, (change.edits[0] as TextEdit).newText);
            created.push(change.textDocument.uri);
          }
        }
        expect(file.source.text()).toContain('template: from-j-9');
        expect(totals(file)).toEqual(before);
        for (const one of [uri, ...created]) book.remove(one);
      },
    ),
    { numRuns: 25 },
  );
});
