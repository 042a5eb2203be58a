/**
 * What the papers of one place must hold, on the printed papers themselves: California as published when it was read
 * (16 CCR 3353, 3356, 3357), a dated profile for tests and no advice. Check the law in force.
 */
import { describe, expect, it } from 'vitest';
import { dec, sum } from '../../../schemas/values/decimal.ts';
import { printJob } from '../../../server/src/print/print.ts';
import { pageOf, readable, smallBook } from './paper.ts';

const FILES = {
  'shop.yaml': `
kind: shop
name: Test Transmission
address: [1 Main Street, Sacramento]
registration: ARD-00012345
epa-id: CAL000123456
currency: USD
locale: en-US
jurisdiction: california
rates: { general: { name: General, hourly: 150.00 } }
fees:
  waste: { name: Hazardous waste disposal, amount: 12.50, cost: 12.50, automatic: yes, waste: yes }
payers:
  ours: { name: Shop warranty, kind: shop }
`,
  'ca.jurisdiction.yaml': `
kind: jurisdiction
id: california
name: California
as-of: 2025-07-01
source: 16 CCR 3353, 3356, 3357
taxes: [{ name: Sales tax, rate: 7.25% }]
taxable: { parts: yes, fluids: yes, labor: no, diagnosis: no, sublet-parts: yes, sublet-labor: no, supplies: yes, fees: no, cores: yes }
supplies: { line: forbidden }
waste: { needs-epa-id: yes, at-cost: yes }
words: { unstated-condition: new }
authorization: { percent: 0%, tax: excluded }
estimate: { must: [business-name, registration-number, epa-id, part-prices, labor-prices, waste-itemised] }
teardown-estimate: { must: [reassembly-price, destroyed-parts, reassembly-days, restoration-notice] }
invoice: { must: [business-name, registration-number, epa-id, part-prices, part-conditions, labor-prices, separate-totals, waste-itemised] }
`,
  'a.parts.yaml': `
kind: parts
parts:
  SILENT-1: { name: Pan gasket, kind: soft, price: 14.00 }
  REB-1: { name: Torque converter, kind: converter, price: 310.00, condition: rebuilt }
  KIT-1: { name: Overhaul kit, kind: kit, brand: Testbrand, price: 330.60, condition: new, contents: [{ role: seal-set }, { role: gasket-set }] }
  SEALS: { name: Seals and O-rings for putting back, kind: soft, price: 92.00, condition: new }
`,
  'a.labor.yaml': `
kind: labor
operations:
  diagnose: { name: Diagnosis, work: diagnosis, rate: general, hours: 1.5 }
  overhaul: { name: Overhaul of the unit, work: bench, rate: general, hours: 9.5 }
  again: { name: Corrected seal under warranty, work: bench, rate: general, hours: 1.0 }
  out: { name: Remove and take apart, work: teardown, rate: general, hours: 5.0 }
  back: { name: Reassemble and refit, work: reassembly, rate: general, hours: 6.0 }
`,
  'a.rules.yaml': `
kind: rules
roles: { seal-set: { name: Seal set, of: part }, gasket-set: { name: Gasket set, of: part } }
`,
  'C.job.yaml': `
kind: job
id: C-1
opened: 2025-08-01
presented: 2025-08-02
completed: 2025-08-09
customer: { name: Ana Test }
vehicle: { year: 2015, make: Testmake, model: Testmodel, plate: 8ABC123, odometer: 90000 mi }
unit: u
complaint: Slips
lines:
  - operation: diagnose
  - operation: overhaul
  - operation: again
    payer: ours
  - part: SILENT-1
  - part: REB-1
  - part: KIT-1
payers: [{ payer: ours, covers: [] }]
teardown:
  lines: [{ operation: out }, { part: SEALS }]
  if-declined: [{ operation: back }]
  days: 10
  notice: Taking it apart might prevent putting it back as it was.
authorizations:
  - { on: 2025-08-02T10:00, by: Ana Test, how: signature, amount: 2500.00 }
`,
};

const { source } = smallBook(FILES, 'C-1');
const estimate = pageOf((await printJob(source, 'customer', 'html')) as string);
const invoice = pageOf((await printJob(source, 'invoice', 'html')) as string);
const rowOf = (page: Document, name: string) =>
  [...page.querySelectorAll('.of-lines tr.row, .of-done tr.row')].find((row) =>
    row.textContent?.includes(name),
  )?.textContent ?? '';
const amount = (text: string | null | undefined) => dec((text ?? '').replaceAll(/[^0-9.-]/g, ''));

describe('the estimate', () => {
  it('prices parts and labor, and prints a part whose condition nobody said as new (CA-01)', () => {
    expect(rowOf(estimate, 'Pan gasket')).toMatch(/new.*\$14\.00/s);
    expect(rowOf(estimate, 'Torque converter')).toMatch(/rebuilt.*\$310\.00/s);
    expect(rowOf(estimate, 'Overhaul of the unit')).toContain('$1,425.00');
  });

  it('of a teardown has the price of putting it back (CA-02)', () => {
    const teardown = estimate.querySelector('#teardown')!;
    expect(teardown.textContent).toMatch(/Reassemble and refit.*\$900\.00/s);
  });

  it('of a teardown prices what taking apart destroys (CA-03)', () => {
    const teardown = estimate.querySelector('#teardown')!.textContent!;
    expect(teardown).toContain('Opening it destroys: Seals and O-rings for putting back.');
    expect(teardown).toMatch(/Seals and O-rings for putting back.*\$92\.00/s);
  });

  it('of a teardown says that it might not go back, and the longest time it takes (CA-04)', () => {
    const teardown = estimate.querySelector('#teardown')!.textContent!;
    expect(teardown).toContain('Taking it apart might prevent putting it back as it was.');
    expect(teardown).toContain('Put back together within 10 working days of your answer.');
  });
});

describe('the invoice', () => {
  it('names the business, its address and its registration (CA-05)', () => {
    const head = invoice.querySelector('header')!.textContent!;
    for (const one of ['Test Transmission', '1 Main Street', 'Sacramento', 'Registration ARD-00012345'])
      expect(head).toContain(one);
  });

  it('lists every service with its price, diagnosis and warranty work too, and every part with its condition (CA-06)', () => {
    expect(rowOf(invoice, 'Diagnosis')).toContain('$225.00');
    expect(rowOf(invoice, 'Corrected seal')).toMatch(/under warranty, paid by Shop warranty.*\$150\.00/s);
    expect(rowOf(invoice, 'Pan gasket')).toMatch(/new/);
    expect(rowOf(invoice, 'Torque converter')).toMatch(/rebuilt/);
    // A kit may be one line, with brand and part number.
    expect(rowOf(invoice, 'Overhaul kit')).toMatch(/Testbrand · No\. KIT-1 · new/);
  });

  it('adds up: services, parts without tax and tax are the total (CA-07)', () => {
    const table = [...invoice.querySelectorAll('table')].find(
      (one) => one.caption?.textContent === 'Parts, services and tax',
    )!;
    const [parts, services, tax, total] = [...table.querySelectorAll('tbody tr')].map((row) =>
      amount(row.lastElementChild?.textContent),
    );
    // 14.00 + 310.00 + 330.60 in parts at 7.25%.
    expect([parts, tax].map((one) => one!.toFixed(2))).toEqual(['654.60', '47.46']);
    expect(sum([parts!, services!, tax!]).toFixed(2)).toBe(total!.toFixed(2));
    expect(readable(invoice)).toContain(`$${total!.toFixed(2).replace(/\B(?=(\d{3})+\.)/g, ',')}`);
  });
});

it.each([
  ['estimate', estimate],
  ['invoice', invoice],
] as const)('the waste fee has a line of its own on the %s, with the EPA number (CA-08)', (_, page) => {
  expect(rowOf(page, 'Hazardous waste disposal')).toMatch(
    /EPA identification number CAL000123456.*\$12\.50/s,
  );
  expect(page.querySelector('#legal')?.textContent).toContain('EPA identification number CAL000123456');
});

it('where law is cited, the reader is told to check the local rules', () => {
  expect(estimate.querySelector('#legal')?.textContent).toMatch(
    /Rules of California, as read on July 1, 2025\. Check your local rules\./,
  );
  expect(estimate.querySelector('#consent')?.textContent).toContain('Check your local rules.');
});
