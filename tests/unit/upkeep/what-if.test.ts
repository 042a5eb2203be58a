/** What a change of the book would do to its jobs. */
import { describe, expect, it } from 'vitest';
import type { Replacements } from '../../../server/src/upkeep/what-if/overlay.ts';
import { whatIfReport, whatIfRows } from '../../../server/src/upkeep/what-if/report.ts';
import { parseSetting, settled } from '../../../server/src/upkeep/what-if/settings.ts';
import { type Over, type WhatIf, whatIf } from '../../../server/src/upkeep/what-if/what-if.ts';
import { uriOf } from '../features/fixture.ts';
import { finished, job, LINES, type Scene, SHOP, scene } from './upkeep-book.ts';

function setting({ book }: Scene, ...set: readonly string[]): Replacements {
  return { texts: settled(book, set.map(parseSetting)).texts, bytes: new Map() };
}

function asked(book: Scene, over: Over, ...set: readonly string[]): WhatIf {
  return finished(whatIf(book.estimates, setting(book, ...set), over));
}

const totals = (found: WhatIf) =>
  found.rows.map(({ name, before, after }) => `${name} ${before.total} ${after.total}`);

describe('what-if', () => {
  it('gives each job what it would come to if the file said so', () => {
    const book = scene(SHOP + job('J-1', LINES) + job('J-2', 'lines: [{ operation: look }]'));
    const found = asked(book, 'open', 'rates.bench.hourly=160.00', 'schedules.all.bands.0.factor=2.50');
    const told = totals(found);
    for (const [name, text] of setting(book, 'rates.bench.hourly=160.00', 'schedules.all.bands.0.factor=2.50')
      .texts)
      book.workspace.put(name, text);
    const really = ['J-1', 'J-2'].map((id) => {
      const file = book.named(`${id}.job.yaml`);
      return book.estimates.of(file)!.chosen!.priced.total.value.toString();
    });
    // J-1: 4 h x 10.00, 3 x 5.00, 5% of 15.00; supplies are at their most already
    expect(told).toEqual(['J-1 1261.95 1317.7', 'J-2 99 99']);
    expect(told.map((line) => line.split(' ')[2])).toEqual(really);
  });

  it.each([
    ['operations.build.hours=5', 'J-1 1261.95 1411.95'],
    ['operations.look.price=100.00', 'J-1 1261.95 1271.95'],
    ['taxes.0.rate=10%', 'J-1 1261.95 1281.95'],
    ['fees.waste.amount=15.00', 'J-1 1261.95 1264.95'],
    ['supplies.maximum=70.00', 'J-1 1261.95 1270.95'],
  ])('%s', (change, expected) => {
    expect(totals(asked(scene(SHOP + job('J-1', LINES)), 'open', change))).toEqual([expected]);
  });

  it('leaves the book as it is', () => {
    const book = scene(SHOP + job('J-1', LINES));
    const before = [...book.book.files()].map((file) => file.source.text());
    asked(book, 'open', 'rates.bench.hourly=160.00', 'parts.*.cost=+10%');
    expect([...book.book.files()].map((file) => file.source.text())).toEqual(before);
  });

  it('counts gross profit and the labor rate of all jobs together', () => {
    const book = scene(SHOP + job('J-1', LINES) + job('J-2', LINES));
    const { before, after } = asked(book, 'open', 'rates.bench.hourly=160.00');
    // Labor sold: 600.00 by the hour and 90.00 flat, which has no hours.
    expect([before.rate, after.rate].map(String)).toEqual(['172.5', '182.5']);
    expect(after.profit.minus(before.profit).toString()).toBe('80');
    expect(after.total.minus(before.total).toString()).toBe('80');
  });

  it('does not move locked prices, and leaves done jobs out unless they are asked for', () => {
    const lock = 'lock: { on: 2026-02-03, rates: { bench: 150.00 } }';
    const book = scene(
      SHOP + job('J-1', `${LINES}\n${lock}`) + job('J-2', `completed: 2026-02-09\n${LINES}`),
    );
    expect(totals(asked(book, 'open', 'rates.*.hourly=+10%'))).toEqual(['J-1 1261.95 1261.95']);
    expect(totals(asked(book, 'all', 'rates.*.hourly=+10%'))[1]).toBe('J-2 1261.95 1321.95');
  });

  it('names jobs that would cross what was authorized, or fall under a floor', () => {
    const book = scene(
      SHOP +
        job(
          'J-1',
          `authorizations: [{ on: 2026-02-03T10:00, by: Ines Vale, how: signature, amount: 1150.00 }]\n${LINES}`,
        ),
    );
    const watch = (...set: readonly string[]) => whatIfRows(asked(book, 'open', ...set))[0]!.watch;
    // AUTH-01: 110% of 1150.00 before tax is 1265.00 (RCW 46.71.025); the job is 1241.95 before tax.
    expect(watch('rates.bench.hourly=155.00')).toBe('');
    expect(watch('rates.bench.hourly=156.00')).toBe('over what is authorized');
    expect(watch('rates.bench.hourly=60.00')).toContain('labor rate under its floor');
    expect(watch('parts.DRM-1.cost=5000.00')).toContain('gross profit under its floor');
  });

  it('prices templates on the least job that takes them', () => {
    const book = scene(
      `${SHOP}
=== g.template.yaml
kind: template
id: gaskets
name: Gaskets
parameters: { gasket: { type: part, default: GSK-1 } }
lines: [{ part: $gasket, quantity: 2 }]
=== h.template.yaml
kind: template
id: open
name: Open
parameters: { words: { type: text } }
lines: [{ operation: look, say: $words }]
`,
    );
    const found = asked(book, 'templates', 'parts.GSK-1.cost=20.00');
    expect(totals(found)).toEqual(['gaskets 42 84']);
    expect(found.leftOut).toEqual([{ name: 'open', why: 'Its parameter "words" has no value of its own.' }]);
  });

  it('reads a price file that replaces one a catalog draws from', () => {
    const csv = 'number,name,cost\nS-1,Seal,4.00\n';
    const book = scene(
      `${SHOP}
=== s.parts.yaml
kind: parts
from: { file: s.csv, columns: { number: number, name: name, cost: cost }, kind: soft }
=== s.csv
${csv}${job('J-1', 'lines: [{ part: S-1 }]')}`,
    );
    const bytes = new Map([[uriOf('s.csv'), new TextEncoder().encode(csv.replace('4.00', '6.00'))]]);
    expect(totals(finished(whatIf(book.estimates, { texts: new Map(), bytes }, 'open')))).toEqual([
      'J-1 8.4 12.6',
    ]);
  });

  it('says in words what is changed and what it comes to', () => {
    const book = scene(SHOP + job('J-1', LINES));
    const { lead } = whatIfReport(book.estimates, asked(book, 'open', 'rates.bench.hourly=160.00'), [
      'A change',
    ]);
    expect(lead).toEqual([
      'A change',
      'Over jobs that are not done: 1. 1 move; together +$40.00 (+3.2%), gross profit +$40.00.',
      'An hour sold would bring $182.50; it brings $172.50 now.',
    ]);
  });
});

describe('a setting', () => {
  const changed = (...set: readonly string[]) => {
    const book = scene(SHOP);
    return settled(book.book, set.map(parseSetting)).changed.map(
      ({ path, was, now }) => `${path.join('.')}: ${was} -> ${now}`,
    );
  };

  it.each([
    ['rates.bench.hourly=+4%', ['rates.bench.hourly: 150.00 -> 156.00']],
    ['rates.bench.hourly = -2.5%', ['rates.bench.hourly: 150.00 -> 146.25']],
    ['schedules.all.bands.1.factor=1.6', ['schedules.all.bands.1.factor: 1.5 -> 1.6']],
    ['supplies.maximum=75.00', ['supplies.maximum: 60.00 -> 75.00']],
    ['rates.bench.minimum=80.00', ['rates.bench.minimum:  -> 80.00']],
    ['taxes.0.rate=6%', ['taxes.0.rate: 5% -> 6%']],
    [
      'parts.*.cost=+10%',
      [
        'parts.GSK-1.cost: 10.00 -> 11.00',
        'parts.DRM-1.cost: 200.00 -> 220.00',
        'parts.BLT-1.cost: 1.10 -> 1.21',
      ],
    ],
    ['parts."GSK-1".cost=9.00', ['parts.GSK-1.cost: 10.00 -> 9.00']],
  ])('%s', (text, expected) => {
    expect(changed(text)).toEqual(expected);
  });

  it.each([
    [
      'rates.bench=160',
      'rates.bench in shop.yaml holds name, hourly, cost. Say which: rates.bench.hourly=160',
    ],
    ['rats.bench.hourly=1.00', 'Did you mean rates?'],
    ['rates.bnch.hourly=1.00', 'Did you mean bench?'],
    ['rates.bench.hourly=abc', '"abc" is not a number'],
    ['rates.bench.minmum=1.00', '"minmum" is not a field that is known here. Did you mean "minimum"?'],
    ['rates.bench.name=+4%', 'no figure to take a percentage of'],
    ['rates', 'Write the place with dots'],
    ['=4', 'Write the place with dots'],
  ])('%s is refused in words', (text, message) => {
    expect(() => changed(text)).toThrow(message);
  });

  it('builds on those before it', () => {
    expect(changed('rates.bench.hourly=100.00', 'rates.bench.hourly=+10%').at(-1)).toBe(
      'rates.bench.hourly: 100.00 -> 110.00',
    );
  });
});
