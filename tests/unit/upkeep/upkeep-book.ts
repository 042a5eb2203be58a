/** A book in memory for what keeps a book right, and what a generator comes to. */
import { Estimates } from '../../../server/src/estimate/estimates.ts';
import { type Fixture, fixture } from '../features/fixture.ts';

export interface Scene extends Fixture {
  readonly estimates: Estimates;
}

export function scene(source: string, options?: { eol?: string }): Scene {
  const made = fixture(source, options);
  return { ...made, estimates: new Estimates(made.book) };
}

export function finished<T>(work: Generator<void, T>): T {
  for (;;) {
    const step = work.next();
    if (step.done) return step.value;
  }
}

/** One shop, three parts, two operations and what they need. All of it is invented. */
export const SHOP = `
=== shop.yaml
kind: shop
currency: USD
rates:
  bench: { name: Bench, hourly: 150.00, cost: 50.00 }
schedules:
  all: { bands: [{ below: 100.00, factor: 2 }, { factor: 1.5 }] }
  bolts: { bands: [{ factor: 3 }], ending: 0.95, ending-per: line }
pricing: { parts: all, by-kind: { hardware: bolts } }
jurisdiction: here
supplies: { rate: 10%, on: [labor], maximum: 60.00 }
fees:
  waste: { name: Waste, amount: 12.00 }
floors: { gross-profit: 40%, effective-rate: 120.00 }
=== here.jurisdiction.yaml
kind: jurisdiction
id: here
name: Here
authorization: { percent: 10%, tax: excluded }
taxes: [{ name: Sales tax, rate: 5% }]
taxable: { parts: yes, fluids: yes, labor: no, supplies: no, fees: no, sublet: no, cores: no }
=== a.parts.yaml
kind: parts
parts:
  # the case gasket
  GSK-1: { name: Gasket, kind: soft, cost: 10.00 }
  DRM-1: { name: Drum, kind: hard, cost: 200.00, core: 80.00 }
  BLT-1: { name: Bolt, kind: hardware, cost: 1.10 }
=== work.labor.yaml
kind: labor
operations:
  build: { name: Build it, work: bench, rate: bench, hours: 4 }
  look: { name: Look at it, work: diagnosis, price: 90.00 }
=== u.units.yaml
kind: units
units:
  alpha: { name: Alpha, layout: rear }
`;

export const job = (id: string, more: string) => `=== ${id}.job.yaml
kind: job
id: ${id}
opened: 2026-02-02
unit: alpha
${more}
`;

export const LINES = `lines:
  - part: GSK-1
    quantity: 3
  - part: DRM-1
  - part: BLT-1
    quantity: 12
  - operation: build
  - operation: look
  - fee: waste`;
