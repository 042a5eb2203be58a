/** A small shop book, made up. */
export const BOOK: Readonly<Record<string, string>> = {
  'shop.yaml': `kind: shop
demo: yes
name: Two Rivers Transmission
currency: USD
jurisdiction: riverland
rates:
  bench: { name: Bench, hourly: 150.00 }
schedules:
  parts: { bands: [{ markup: 40% }] }
pricing: { parts: parts }
`,
  'riverland.jurisdiction.yaml': `kind: jurisdiction
demo: yes
id: riverland
name: Riverland
taxes:
  - { name: State sales tax, rate: 5% }
taxable: { parts: yes }
`,
  'birch.units.yaml': `kind: units
units:
  birch-6: { name: Birch-6, layout: front, gears: 6, fluid-class: B, components: [converter] }
`,
  'roles.rules.yaml': `kind: rules
roles:
  converter: { name: Torque converter, of: part }
findings:
  debris: { name: Debris in the pan, kind: yes-no, picture: pictures/clean.jpg }
rules:
  new-converter:
    when: { finding: debris }
    requires: [{ role: converter }]
    because: It cannot be flushed clean.
    basis: practice
`,
  'pictures/clean.jpg': 'no picture at all',
  'b6.parts.yaml': `kind: parts
parts:
  # the old number
  TC-1:
    name: Torque converter, Birch-6
    kind: converter
    role: converter
    fits: [birch-6]
    cost: 200.00
    superseded-by: { part: TC-2 }
  TC-2: { name: 'Torque converter 🔧', kind: converter, role: converter, cost: 210.00 }
`,
  'bench.labor.yaml': `kind: labor
operations:
  fit-converter:
    name: Fit the converter
    work: install
    rate: bench
    hours: 1.5
    adders:
      rust: { name: Rust, hours: 0.3, judged: yes }
`,
  'jobs/J-1.job.yaml': `kind: job
id: J-1
opened: 2026-03-02
unit: birch-6
findings: { debris: yes }
lines:
  - part: TC-1   # the old one
  - operation: fit-converter
    adders: [rust]
`,
};

export const JOB = 'jobs/J-1.job.yaml';

/** Where a text begins in one of the files. */
export function place(name: string, text: string, nth = 0): { line: number; character: number } {
  const source = BOOK[name]!;
  let at = -1;
  for (let i = 0; i <= nth; i++) at = source.indexOf(text, at + 1);
  if (at === -1) throw new Error(`${name} has no ${text}`);
  const lines = source.slice(0, at).split('\n');
  return { line: lines.length - 1, character: lines.at(-1)!.length };
}
