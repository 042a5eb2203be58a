import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { findJob, openBook } from '../../../server/src/cli/open.ts';
import type { BookNode } from '../../../server/src/features/client/book-tree.ts';
import type { FigureTree } from '../../../server/src/features/client/figures.ts';
import { type Method, REQUESTS, type Requests } from '../../../server/src/features/client/requests.ts';

const BOOK = join(import.meta.dirname, '../../../client/starter');

/** A book of its own for each test, with some texts replaced. */
function open(replace: (text: string) => string = (text) => text) {
  const books = openBook(BOOK).books.map((one) => one.estimates);
  const { file } = findJob('J-1', BOOK);
  books[0]!.book.put(file.uri, replace(file.source.text()));
  const ask = <M extends Method>(method: M, params: Requests[M][0]) => REQUESTS[method](books, params);
  return { uri: file.uri, text: replace(file.source.text()), ask };
}

describe('gearquill/estimate', () => {
  it('has what is missing on top, with its place in the job', () => {
    const { ask, uri, text } = open();
    const { missing } = ask('gearquill/estimate', { uri })!;
    const shown = missing.map((one) => [
      one.code,
      one.severity,
      text.split('\n')[one.range.start.line]?.trim(),
      one.options,
    ]);
    expect(shown).toEqual([
      ['missing-work', 'error', 'metal-in-pan: flakes', []],
      ['missing-work', 'error', 'metal-in-pan: flakes', []],
      ['missing-record', 'hint', 'warranty: plan-12', ['Overhaul your unit']],
      ['missing-record', 'hint', 'warranty: plan-12', ['Fit an exchange unit']],
    ]);
  });

  it('shows options side by side, in the money of the shop', () => {
    const { ask, uri } = open();
    const { options } = ask('gearquill/estimate', { uri })!;
    // 384.80 + 404.00 + 83.20 + 1,787.00 + 80.00 + 40.00 + 6% of 912.00, by hand from the starter's figures.
    expect(options.map((one) => [one.name, one.total.text, one.days, one.missing])).toEqual([
      ['Overhaul your unit', '$2,833.72', 4, 2],
      ['Fit an exchange unit', '$4,230.87', 2, 2],
    ]);
    for (const { slices, size } of options) {
      expect(slices.reduce((sum, one) => sum + one.share, 0)).toBeCloseTo(1, 9);
      expect(size).toBeGreaterThan(0);
    }
  });

  it('names the place of every line that the job has, and none for what is put on by itself', () => {
    const { ask, uri, text } = open();
    const [overhaul] = ask('gearquill/estimate', { uri })!.options;
    const lines = overhaul!.categories.flatMap((one) => one.lines);
    const places = lines.map((one) => [one.id, one.range && text.split('\n')[one.range.start.line]?.trim()]);
    expect(places).toEqual([
      ['KIT-A4', '- part: KIT-A4'],
      ['TC-A4', '- part: TC-A4'],
      ['FLUID-A', '- fill: dry'],
      ['overhaul', '- operation: overhaul'],
      ['TC-A4', '- part: TC-A4'],
      [undefined, undefined],
    ]);
  });

  it('looks at the chosen option only, once there is one', () => {
    const chosen = (text: string) => `${text}chosen: exchange\n`;
    const { ask, uri } = open(chosen);
    const { options, missing } = ask('gearquill/estimate', { uri })!;
    expect(options.map((one) => one.chosen)).toEqual([false, true]);
    expect(missing.filter((one) => one.code === 'missing-record').length).toBe(1);
  });

  it('says which options lack a thing that others have', () => {
    const { ask, uri } = open((text) =>
      text.replace('      - part: KIT-A4\n', '      - part: KIT-A4\n      - operation: cooler-flush\n'),
    );
    const { missing } = ask('gearquill/estimate', { uri })!;
    expect(missing.filter((one) => one.severity === 'error').map((one) => one.options)).toEqual([
      [],
      ['Fit an exchange unit'],
    ]);
  });

  it('is null for what is no job of the book', () => {
    const { ask, uri } = open();
    expect(ask('gearquill/estimate', { uri: 'file:///elsewhere/x.job.yaml' })).toBeNull();
    expect(ask('gearquill/estimate', { uri: new URL('../shop.yaml', uri).href })).toBeNull();
  });
});

describe('gearquill/figure', () => {
  const leaves = (tree: FigureTree): FigureTree[] =>
    tree.of.length === 0 ? [tree] : tree.of.flatMap(leaves);

  it('shows a number down to what somebody wrote, with its place', () => {
    const { ask, uri } = open();
    const { options } = ask('gearquill/estimate', { uri })!;
    const { sale, categories } = options[0]!;
    const overhaul = categories.find((one) => one.category === 'labor')!.lines[0]!;
    const tree = ask('gearquill/figure', { uri, sale, figure: overhaul.amount.key })!;
    expect(tree.value).toBe('$1,787.00');
    const rate = leaves(tree).find((one) => one.value === '$150.00');
    expect(rate?.place?.uri).toMatch(/shop\.yaml$/);
  });

  it('answers for every number that the view names', () => {
    const { ask, uri } = open(
      (text) =>
        `${text}deposits: [{ on: 2026-03-03, amount: 500.00 }]\nteardown:\n  lines: [{ operation: overhaul }]\n`,
    );
    const view = ask('gearquill/estimate', { uri })!;
    const asked = [...view.options, ...view.teardown].flatMap((sale) =>
      [
        sale.total,
        sale.subtotal,
        sale.hours,
        ...(sale.paid ? [sale.paid] : []),
        ...(sale.balance ? [sale.balance] : []),
        ...sale.taxes.map((one) => one.amount),
        ...sale.categories.flatMap((one) => [one.amount, ...one.lines.map((line) => line.amount)]),
      ].map((figure) => ({ sale: sale.sale, figure })),
    );
    expect(asked.length).toBeGreaterThan(30);
    for (const { sale, figure } of asked) {
      const tree = ask('gearquill/figure', { uri, sale, figure: figure.key });
      expect(tree?.value.replace('-', ''), `${sale} ${figure.key}`).toBe(figure.text.replace('-', ''));
    }
  });

  it('is null for a number that is not there', () => {
    const { ask, uri } = open();
    for (const figure of ['', 'line 99', 'line', 'category none', 'toString'])
      expect(ask('gearquill/figure', { uri, sale: 'option 0', figure }), figure).toBeNull();
    expect(ask('gearquill/figure', { uri, sale: 'option 9', figure: 'total' })).toBeNull();
  });
});

describe('gearquill/bookTree', () => {
  const drawn = (ask: ReturnType<typeof open>['ask'], node?: BookNode, depth = 0): string[] =>
    ask('gearquill/bookTree', node ? { node: node.id } : {})!.flatMap((one) => [
      `${'  '.repeat(depth)}${one.label}${one.description ? ` (${one.description})` : ''}`,
      ...(one.expandable ? drawn(ask, one, depth + 1) : []),
    ]);

  it('shows open jobs by what they lack, parts by role, and the rest', () => {
    const tree = drawn(open().ask);
    expect(tree.slice(0, 7)).toEqual([
      'Open jobs',
      '  Lack required work or answers (1)',
      '    J-1 (Alma Sample, $2,833.72)',
      'Parts by role (4)',
      '  Exchange unit (1)',
      '    UNIT-A4-X (Exchange unit, Alder-4)',
      '  Overhaul kit (1)',
    ]);
    expect(tree).toContain('  metal-stays-in-the-cooler (Metal stays in the cooler)');
  });

  it('leaves out jobs that are done', () => {
    const tree = drawn(open((text) => `${text}completed: 2026-03-09\n`).ask);
    expect(tree.slice(0, 2)).toEqual(['Open jobs', 'Parts by role (4)']);
  });

  it('has ids that are all different', () => {
    const { ask } = open();
    const ids = (node?: BookNode): string[] =>
      ask('gearquill/bookTree', node ? { node: node.id } : {})!.flatMap((one) => [
        one.id,
        ...(one.expandable ? ids(one) : []),
      ]);
    const all = ids();
    expect(new Set(all).size).toBe(all.length);
  });
});

describe('other answers', () => {
  it('entries: by id or name', () => {
    const { ask } = open();
    const found = (query: string) => ask('gearquill/entries', { kind: 'part', query })!.map((one) => one.id);
    expect(found('')).toEqual(['FLUID-A', 'KIT-A4', 'TC-A4', 'UNIT-A4-X']);
    expect(found('torque')).toEqual(['TC-A4']);
    expect(found('kit-a4')).toEqual(['KIT-A4']);
  });

  it('check: every problem with its place', () => {
    const { ask, uri } = open();
    const { files, problems } = ask('gearquill/check', {})!;
    expect(files).toBe(8);
    expect(problems.filter((one) => one.severity === 'error').map((one) => one.uri)).toEqual([uri, uri]);
  });

  it('shop: the name of the shop whose rules hold', () => {
    const { ask, uri } = open();
    expect(ask('gearquill/shop', { uri })).toBe('Your Shop');
  });

  it('codePage: the page as Markdown', () => {
    const { ask } = open();
    expect(ask('gearquill/codePage', { code: 'missing-work' })).toMatch(/^# .+\n\n`missing-work`\n/);
    expect(ask('gearquill/codePage', { code: 'no-such-code' })).toBeNull();
  });

  it('cases: what is expected beside what came out', () => {
    const { ask, uri } = open();
    const cases = new URL('../shop.cases.yaml', uri).href;
    expect(ask('gearquill/cases', { uri: cases })!.map((one) => [one.id, one.range?.start.line])).toEqual([
      ['metal-asks-for-a-flush', 5],
      ['paste-is-normal', 12],
    ]);
    expect(ask('gearquill/runCases', { uri: cases })!.map((one) => one.failures.length)).toEqual([0, 0]);
    const mended = open((text) => text.replace('metal-in-pan: flakes', 'metal-in-pan: paste'));
    const [outcome] = mended.ask('gearquill/runCases', { uri: cases, ids: ['metal-asks-for-a-flush'] })!;
    expect(
      outcome!.failures.map(({ field, expected, actual, range }) => [
        field,
        expected,
        actual,
        range?.start.line,
      ]),
    ).toEqual([['missing', 'cooler-flush, flow-test', 'none', 10]]);
  });
});
