import { beforeAll, describe, expect, it } from 'vitest';
import { isoDate } from '../../../schemas/values/dates.ts';
import { Workspace } from '../../../server/src/book/workspace.ts';
import { Estimates } from '../../../server/src/estimate/estimates.ts';
import { complete } from '../../../server/src/features/completion.ts';

const PARTS = 100_000;
const WORDS = ['Converter', 'Pump', 'Drum', 'Seal', 'Filter', 'Gasket', 'Solenoid', 'Bushing', 'Planet'];
const PARTS_FILE = 'file:///shop/p.parts.yaml';
const JOB_FILE = 'file:///shop/j.job.yaml';

function part(i: number): string {
  return `  P${i % 97}-${i}:
    name: ${WORDS[i % 9]} ${i}
    kind: soft
    fits: [u${i % 12}]
    cost: ${(i % 500) + 1}.50
`;
}

const job = (typed: string) => `kind: job\nid: J\nopened: 2026-03-01\nunit: u3\nlines:\n  - part: ${typed}\n`;

describe('a hundred thousand parts', () => {
  const workspace = new Workspace(['file:///shop/'], { read: () => undefined, size: () => undefined });
  let estimates: Estimates;

  beforeAll(() => {
    const parts = `kind: parts\nparts:\n${Array.from({ length: PARTS }, (_, i) => part(i)).join('')}`;
    const shop = 'kind: shop\npricing: { parts: std }\nschedules: { std: { bands: [ { factor: 2 } ] } }\n';
    const units = `kind: units\nunits:\n${Array.from({ length: 12 }, (_, i) => `  u${i}: { name: U${i}, layout: rear, fluid-class: B }\n`).join('')}`;
    workspace.load(
      new Map([
        ['file:///shop/shop.yaml', shop],
        ['file:///shop/u.units.yaml', units],
        [PARTS_FILE, parts],
        [JOB_FILE, job('')],
      ]),
    );
    estimates = new Estimates(workspace.books[0]!);
  }, 120_000);

  function type(typed: string) {
    const { book } = estimates;
    book.put(JOB_FILE, job(typed));
    return complete({
      estimates,
      file: book.file(JOB_FILE)!,
      position: { line: 5, character: 10 + typed.length },
      today: isoDate('2026-03-04'),
      client: { snippets: true, linesAsTheyAre: true, markdown: true },
    });
  }

  it('are answered in a bounded list that says that there are more', () => {
    const { items, isIncomplete } = type('');
    expect([items.length, isIncomplete]).toEqual([100, true]);
    expect(new Set(items.map((item) => Number(item.label.split('-')[1]) % 12))).toEqual(new Set([3]));
  });

  it('fit first, then match best: the number, the name, a word, anywhere, letters in order', () => {
    const labels = (typed: string) => type(typed).items.map((item) => item.label);
    const fitting = labels('P3-1').filter((label) => Number(label.split('-')[1]) % 12 === 3);
    expect(labels('P3-1').slice(0, fitting.length)).toEqual(fitting);
    expect(labels('p89-99999')[0]).toBe('P89-99999');
    expect(labels('cnvrtr 99999')).toEqual(['P89-99999']);
    expect(labels('gasket 99')[0]).toMatch(/^P\d+-99\d+$/);
    expect(labels('zzz')).toEqual([]);
  });

  it('say that they match what is typed, so that the client keeps them and their order', () => {
    const { items } = type('conv');
    expect(new Set(items.map((item) => item.filterText))).toEqual(new Set(['conv']));
    expect(items.map((item) => item.sortText)).toEqual(items.map((item) => item.sortText).toSorted());
  });

  it('follow an edit of the catalog without being laid out anew', () => {
    const { book } = estimates;
    type('P');
    const edit = (line: number, start: number, end: number, text: string) =>
      book.edit(PARTS_FILE, [
        { range: { start: { line, character: start }, end: { line, character: end } }, text },
      ]);
    // Part 3 fits the unit of the job; its name is on the fifth line after the two of the head.
    const line = 2 + 3 * 5 + 1;
    edit(line, 10, 12, 'Zwieback');
    expect(type('zwie').items.map((item) => item.label)).toEqual(['P3-3']);
    edit(line, 10, 18, 'Se');
    expect(type('zwie').items).toEqual([]);
  });

  it('are found quickly', () => {
    const queries = [...'abcdefghijklmnopqrstuvwxyz'].flatMap((ch) => [ch, `${ch}a`, `P${ch}`, `${ch}1`]);
    for (const query of queries) type(query);
    const times = queries.map((query) => {
      const start = process.cpuUsage();
      type(query);
      const { user, system } = process.cpuUsage(start);
      return (user + system) / 1000;
    });
    times.sort((a, b) => a - b);
    // A generous bound on processor time, so that a busy machine does not fail it; scanning every part takes longer.
    expect(times[Math.floor(times.length * 0.5)]).toBeLessThan(40);
  });
});
