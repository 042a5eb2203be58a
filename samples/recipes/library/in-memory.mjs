// A book that is on no disk: checked, mended, priced, printed.
import { check, explain, openBook, price, print } from 'gearquill';

const book = openBook({
  'shop.yaml': `kind: shop
name: Corner Shop
currency: USD
locale: en-US
rates: { general: { name: General work, hourly: 120.00 } }
schedules: { standard: { bands: [{ factor: 2 }] } }
pricing: { parts: standard }
`,
  'a.parts.yaml': `kind: parts
parts:
  SEAL-1: { name: Seal, kind: soft, cost: 4.00 }
`,
  'a.labor.yaml': `kind: labor
operations:
  fit-seal: { name: Fit the seal, work: in-vehicle, rate: general, hours: 0.5 }
`,
  'a.units.yaml': `kind: units
units:
  birch-6: { name: Birch-6, layout: rear, fluid-class: B }
`,
  'J-1.job.yaml': `kind: job
id: J-1
opened: 2026-03-02
unit: birch-6
lines: [{ part: SEAL-2 }, { operation: fit-seal }]
`,
});

const problem = check(book, 'J-1.job.yaml').find((one) => one.severity === 'error');
console.log(`${problem.file}:${problem.line}: ${problem.message}`);
console.log(`To mend it: ${explain(problem.code).mend}`);

book.put('J-1.job.yaml', `kind: job
id: J-1
opened: 2026-03-02
unit: birch-6
lines: [{ part: SEAL-1 }, { operation: fit-seal }]
`);
console.log(price(book, 'J-1').options[0].printed.total);
console.log((await print(book, 'J-1', 'customer', 'text')).split('\n')[0]);
