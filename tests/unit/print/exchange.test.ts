import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import { exchangedEstimate, exchangeSchema } from '../../../schemas/exchange/estimate.ts';
import { dec, sum } from '../../../schemas/values/decimal.ts';
import { printJob } from '../../../server/src/print/print.ts';
import { chapters, secondsOf } from '../../../server/src/print/video.ts';
import { sampleJob, sampleJobs, smallBook } from './paper.ts';

describe('JSON for other systems', () => {
  it('is what its schema says, for every job of the book', async () => {
    // As other systems get it; `npm run check` holds the file against its declaration.
    const written = JSON.parse(readFileSync('schemas/json/exchange/estimate-1.schema.json', 'utf8'));
    expect(written).toEqual(JSON.parse(JSON.stringify(exchangeSchema())));
    const validate = new Ajv2020({ strict: false }).compile(written);
    for (const id of sampleJobs()) {
      const json = JSON.parse((await printJob(sampleJob(id).source, 'customer', 'json')) as string);
      expect(validate(json), `${id}: ${JSON.stringify(validate.errors)}`).toBe(true);
      const read = exchangedEstimate.parse(json);
      for (const option of read.options) {
        const net = sum(option.lines.map((line) => dec(line.net)));
        expect(net.toString()).toBe(option.subtotal);
        const tax = option.taxIncluded ? '0' : option.tax;
        expect(net.plus(dec(tax)).toString()).toBe(option.total);
      }
    }
  });
});

describe('CSV for spreadsheets', () => {
  it('adds up', async () => {
    const csv = (await printJob(sampleJob('J-1042').source, 'customer', 'csv')) as string;
    const rows = parse(csv, { bom: true, columns: true }) as Record<string, string>[];
    for (const option of ['overhaul', 'exchange', 'used']) {
      const own = rows.filter((row) => row.option === option);
      const total = own.find((row) => row.row === 'total')!;
      const rest = own.filter((row) => row.row !== 'total' && row.row !== 'before-tax');
      expect(sum(rest.map((row) => dec(row.amount!))).toString()).toBe(total.amount);
    }
  });

  it('lets no text become a formula, and leaves figures alone (OWASP, CSV injection)', async () => {
    const names = ['=1+1', '+1', '-1', '@SUM(A1)', '\t=1', '＝1'];
    const lines = names
      .map((name) => `  - { other: ${JSON.stringify(name)}, category: labor, price: 5.00 }`)
      .join('\n');
    const { source } = smallBook(
      {
        'shop.yaml': 'kind: shop\nname: S\n',
        'J.job.yaml': `kind: job\nid: J\nopened: 2026-01-01\nunit: u\nlines:\n${lines}\ndiscounts: [{ name: "=D", amount: 1.00, on: [labor] }]\n`,
      },
      'J',
    );
    const rows = parse((await printJob(source, 'customer', 'csv')) as string, {
      bom: true,
      columns: true,
    }) as Record<string, string>[];
    for (const row of rows) {
      for (const [column, value] of Object.entries(row)) {
        if (column === 'amount') expect(value).toMatch(/^-?\d/);
        else if (column !== 'quantity' && column !== 'each' && column !== 'hours')
          expect(value).not.toMatch(/^\s*[=+\-@＝＋－＠]/);
      }
    }
    expect(rows.find((row) => row.row === 'discount')).toMatchObject({ name: "'=D", amount: '-1' });
  });
});

describe('chapters of a video (WebVTT, W3C)', () => {
  it('begin where the marks are and end where the next begins', async () => {
    const vtt = (await printJob(sampleJob('J-1042').source, 'talk', 'vtt')) as string;
    expect(vtt.split('\n').slice(0, 8)).toEqual([
      'WEBVTT',
      '',
      '1',
      '00:00:22.000 --> 00:01:12.000',
      'Slips in a gear',
      '',
      '2',
      '00:01:12.000 --> 00:02:05.000',
    ]);
  });

  it('read times as people write them, and hold no tags', () => {
    expect(['02:14', '1:02:14', '134', '02:14.5', 'later', '-3'].map(secondsOf)).toEqual([
      134,
      3734,
      134,
      134.5,
      undefined,
      undefined,
    ]);
    expect(chapters([{ finding: 'f', name: 'a --> <b>\n\nX', seconds: 3600.25, time: '' }])).toBe(
      'WEBVTT\n\n1\n01:00:00.250 --> 01:10:00.250\na --&gt; &lt;b&gt; X\n',
    );
  });
});

it('prices that hold the tax print it as a part of the total, not on top', async () => {
  const { source } = smallBook(
    {
      'shop.yaml': 'kind: shop\nname: S\njurisdiction: here\ntax: { prices: inclusive }\n',
      'here.jurisdiction.yaml':
        'kind: jurisdiction\nid: here\nname: Here\nas-of: 2026-01-01\ntaxes: [{ name: VAT, rate: 25% }]\ntaxable: { parts: yes, labor: yes, fees: yes }\n',
      'J.job.yaml':
        'kind: job\nid: J\nopened: 2026-01-01\nunit: u\nlines: [{ other: Pump, category: parts, price: 125.00 }]\n',
    },
    'J',
  );
  const text = (await printJob(source, 'customer', 'text')) as string;
  expect(text).toMatch(/Total with tax +\$125\.00\n *of which VAT 25% +\$25\.00/);
  expect(await printJob(source, 'invoice', 'text')).toMatch(/Parts, without tax +\$100\.00/);
});
