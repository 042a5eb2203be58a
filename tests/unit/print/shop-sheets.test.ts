import { describe, expect, it } from 'vitest';
import { exchangedEstimate } from '../../../schemas/exchange/estimate.ts';
import { printJob } from '../../../server/src/print/print.ts';
import { workingOrder } from '../../../server/src/print/sheets/bench.ts';
import { optionFor, sheetOf } from '../../../server/src/print/sheets/context.ts';
import { pageOf, sampleJob } from './paper.ts';

const { source } = sampleJob('J-1042');
const sheet = sheetOf(source, 'bench');
const option = optionFor(sheet)!;

describe('the bench work order', () => {
  const order = workingOrder(sheet, option).map((one) => one.operation);

  it('goes from diagnosis over removal, bench and refitting to the road', () => {
    const places = [
      'diagnose-full',
      'rr-unit',
      'overhaul',
      'refit-unit',
      'fit-radiator',
      'adapt-and-relearn',
      'drive-test',
    ].map((one) => order.indexOf(one));
    expect(places).toEqual(places.toSorted((a, b) => a - b));
    expect(places).not.toContain(-1);
  });

  it('mends the cooler before its lines are flushed, and flushes before it tests the flow (GLY-02, FLOW-07)', () => {
    expect(order.indexOf('fit-radiator')).toBeLessThan(order.indexOf('flush-cooler'));
    expect(order.indexOf('flush-cooler')).toBeLessThan(order.indexOf('test-flow'));
  });

  it('gives each record its limits, and says whose procedure a caution defers to', async () => {
    const text = (await printJob(source, 'bench', 'text')) as string;
    expect(text.replaceAll('\u00a0', ' ')).toContain(
      'Input shaft end play: 0.021 in  (0.005 in to 0.025 in)'.replace('  ', ' '),
    );
    expect(text).toContain('OSHA 29 CFR');
    expect(text).toMatch(/Rusted fasteners 0\.5 h; six of eight/);
  });

  it('tells of every hour that is sold', async () => {
    const page = pageOf((await printJob(source, 'bench', 'html')) as string);
    const hours = [...page.querySelectorAll('#order .step h3 .aside')]
      .map((one) => Number.parseFloat(one.textContent ?? ''))
      .filter((one) => !Number.isNaN(one));
    const sum = hours.reduce((a, b) => a + b, 0);
    expect(sum.toFixed(1)).toBe(option.priced.hoursSold.value.toFixed(1));
  });
});

describe('the parts order', () => {
  it('has every part once, by supplier, with the cores to send back and their last day', async () => {
    const page = pageOf((await printJob(source, 'order', 'html')) as string);
    const goods = option.priced.lines.filter((line) => line.kind === 'part' || line.kind === 'fill');
    expect(page.querySelectorAll('tr.row')).toHaveLength(goods.length);
    // 45 days of the supplier, from the day the work was authorized.
    expect(page.body.textContent).toContain(
      '1 x Torque converter, Birch-6 (TC-B6-R), $120.00 deposit, back by April 19, 2026.',
    );
  });
});

describe('the invoice', () => {
  it('is held against the estimate that was handed over, line by line', async () => {
    const estimate = exchangedEstimate.parse(
      JSON.parse((await printJob(source, 'customer', 'json')) as string),
    );
    const kept = structuredClone(estimate);
    const lines = kept.options[0]!.lines;
    const at = (id: string) => lines.findIndex((line) => line.id === id);
    lines.splice(at('HOS-B6'), 1);
    lines[at('RAD-7120')]!.net = '300.00';
    lines.push({ ...lines[at('RAD-7120')]!, id: 'OLD-1', name: 'A part that was not needed', net: '50.00' });
    const page = pageOf((await printJob(source, 'invoice', 'html', { against: kept })) as string);
    const row = (name: string) =>
      [...page.querySelectorAll('#held tr.row')]
        .find((one) => one.textContent?.includes(name))
        ?.textContent?.replaceAll(/\s+/g, ' ')
        .replaceAll(' $', '$')
        .replaceAll(' -$', '-$')
        .trim();
    expect(row('Radiator with')).toContain('$300.00$304.50$4.50');
    expect(row('Radiator hoses, Birch-6')).toContain('added after the estimate$68.20$68.20');
    expect(row('not needed')).toContain('estimated, not billed$50.00-$50.00');
    const same = pageOf((await printJob(source, 'invoice', 'html', { against: estimate })) as string);
    expect(same.querySelector('#held')?.textContent).toContain('Every line is billed as it was estimated.');
  });

  const heldRow = async (of: typeof source, name: string) =>
    [...pageOf((await printJob(of, 'invoice', 'html')) as string).querySelectorAll('#held tr')]
      .find((one) => one.textContent?.includes(name))
      ?.textContent?.replaceAll(/\s+/g, ' ')
      .trim();

  it('is held against the prices that were kept, where the estimate was not, labor at its kept rate too', async () => {
    const dearer = sampleJob('J-1042', (one) =>
      one.replace(
        '      - part: RAD-7120\n        for: radiator-leaks-inside\n        say: The new',
        '      - part: RAD-7120\n        price: 310.00\n        reason: other maker\n        for: radiator-leaks-inside\n        say: The new',
      ),
    ).source;
    expect(await heldRow(dearer, 'Radiator with')).toContain('$304.50 $310.00 $5.50 Mar 5, 2026');
    expect(await heldRow(source, 'Overhaul the unit')).toMatch(/(\$[\d,.]+) \1 \$0\.00 Mar 5, 2026/);
    // Supplies are no price that was kept: nothing is said of what they were.
    expect(await heldRow(source, 'Shop supplies')).toMatch(/^Shop supplies \$75\.00 Mar 5, 2026$/);
    const kept = sampleJob('J-1042', (one) =>
      one.replace('lock:\n  on: 2026-03-05\n', 'lock:\n  on: 2026-03-05\n  totals: { overhaul: 6400.00 }\n'),
    ).source;
    expect(await heldRow(kept, 'Total with tax')).toContain('$6,400.00');
  });

  it('says which consent covers a line, and what was declined and is billed all the same', async () => {
    const declined = sampleJob('J-1042', (one) =>
      one.replace(
        'for: work\n    option: overhaul',
        'for: work\n    option: overhaul\n    declined: [radiator-hoses]',
      ),
    ).source;
    expect(await heldRow(declined, 'Radiator hoses')).toContain('declined on Mar 5, 2026, and billed');
    expect(await heldRow(source, 'Full diagnosis')).toContain('Mar 2, 2026');
    const other = sampleJob('J-1042', (one) => one.replace('option: overhaul', 'option: used')).source;
    expect(await heldRow(other, 'Friction plate set')).toContain('another option');
  });

  it('stands beside its consents where nothing at all was kept', async () => {
    const bare = sampleJob('J-1042', (one) => one.replace(/^lock:[\s\S]*$/m, '')).source;
    expect(await heldRow(bare, 'Friction plate set')).toMatch(/set, Birch-6 \$[\d,.]+ Mar 5, 2026$/);
  });

  it('is held against what was agreed to', async () => {
    const text = (await printJob(source, 'invoice', 'text')) as string;
    expect(text).toContain('Within what you agreed to.');
    const over = sampleJob('J-1042', (one) => one.replace('amount: 6360.04', 'amount: 6000.00')).source;
    expect(await printJob(over, 'invoice', 'text')).toContain('Over what you agreed to');
  });
});
