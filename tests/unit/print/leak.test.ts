import { describe, expect, it } from 'vitest';
import { formatMoney } from '../../../schemas/values/money.ts';
import { printJob, type SheetName } from '../../../server/src/print/print.ts';
import { pdfPages, sampleJob, sampleJobs } from './paper.ts';

/** Papers that leave the shop. A PDF is made of what the text is made of, and is searched once. */
const OUTSIDE: readonly [SheetName, 'html' | 'text' | 'csv' | 'json' | 'vtt'][] = [
  ['customer', 'html'],
  ['customer', 'text'],
  ['customer', 'csv'],
  ['customer', 'json'],
  ['invoice', 'html'],
  ['invoice', 'text'],
  ['talk', 'html'],
  ['talk', 'text'],
  ['talk', 'vtt'],
];

describe('what the shop pays', () => {
  it.each(sampleJobs())('is on no paper that leaves the shop: %s', async (id) => {
    const { source } = sampleJob(id);
    const { estimate, catalog } = source;
    const { shop, currency, jurisdiction } = estimate.policy;
    const print = (value: Parameters<typeof formatMoney>[0]) => formatMoney(value, currency, 'en-US');
    const lines = estimate.options.flatMap((option) => option.priced.lines);
    const sold = new Set(
      lines
        .flatMap((line) => [line.each, line.amount, line.net, ...line.reductions.map((one) => one.amount)])
        .flatMap((one) => (one ? [print(one.value)] : [])),
    );
    const priced = estimate.options.map((option) => option.priced);
    for (const one of priced)
      for (const sum of [one.subtotal, one.total, one.balance, ...one.subtotals.values()])
        sold.add(print(sum.value));
    const costs = lines.flatMap((line) => {
      const part = line.id === undefined ? undefined : catalog.part(line.id);
      return [line.cost?.value, part?.cost, part?.pack?.cost].filter((cost) => cost !== undefined);
    });
    const secret = new Set(
      costs
        .filter((cost) => cost.gt(cost.minus(cost)))
        .map(print)
        .filter((text) => !sold.has(text)),
    );
    for (const { inside } of priced) secret.add(print(inside.cost.value)).add(print(inside.profit.value));
    const subcontractors = jurisdiction?.invoice?.must.includes('subcontractors');
    const suppliers = Object.values(shop.suppliers ?? {}).filter(() => !subcontractors);
    expect(secret.size).toBeGreaterThan(0);
    for (const [sheet, format] of OUTSIDE) {
      const paper = (await printJob(source, sheet, format)) as string;
      for (const cost of secret)
        expect(paper.includes(cost), `${sheet} as ${format} shows ${cost}`).toBe(false);
      for (const { name, phone, account } of suppliers) {
        expect(paper, `${sheet} as ${format}`).not.toContain(name);
        if (phone) expect(paper).not.toContain(phone);
        if (account && account.length > 4) expect(paper).not.toContain(account);
      }
      expect(paper).not.toMatch(/gross profit|markup|margin of/i);
    }
  });

  it.each(['customer', 'invoice', 'talk'] as const)('is not in the PDF of the %s sheet', async (sheet) => {
    const { source } = sampleJob('J-1042');
    const paper = (await pdfPages((await printJob(source, sheet, 'pdf')) as Uint8Array)).join('\n');
    expect(paper).toContain('J-1042');
    // What the order sheet shows: the cost of the converter, and who sells it.
    expect(paper).not.toContain('$142.00');
    expect(paper).not.toContain('Northfen Transmission Parts');
    expect(paper).not.toMatch(/gross profit|markup|margin of/i);
  });

  it('is on the sheets of the shop, so that the search above would find it', async () => {
    const { source } = sampleJob('J-1042');
    expect(await printJob(source, 'order', 'text')).toContain('$142.00');
    expect(await printJob(source, 'order', 'text')).toContain('Northfen Transmission Parts');
    expect(await printJob(source, 'inside', 'text')).toContain('Gross profit');
    const pdf = (await pdfPages((await printJob(source, 'order', 'pdf')) as Uint8Array)).join('\n');
    expect(pdf).toContain('$142.00');
    expect(pdf).toContain('Northfen Transmission Parts');
  });
});
