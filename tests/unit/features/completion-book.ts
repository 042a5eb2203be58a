/** A small shop book for tests of completion and hover; made up. */
export const BOOK = `
  === shop.yaml
  kind: shop
  name: Test shop
  currency: USD
  jurisdiction: state-x
  rates:
    bench: { name: Bench, hourly: 155.00 }
    general: { name: General, hourly: 148.00 }
  schedules:
    std: { bands: [ { below: 100.00, factor: 2 }, { factor: 1.5 } ] }
  pricing: { parts: std }
  fees:
    waste: { name: Waste fluid, amount: 18.00 }
  discounts:
    returning: { name: Returning customer, percent: 5%, on: [labor] }
  payers:
    fleet-a: { name: Fleet A, kind: fleet, covers: [labor] }
  customers:
    oakes: { name: W. Oakes, phone: 555-0117 }
  warranties:
    plan-12: { name: "12 months or 12,000 miles", months: 12, distance: 12000 mi }
  suppliers:
    northfen: { name: Northfen, phone: 555-0181 }
  === x.jurisdiction.yaml
  kind: jurisdiction
  id: state-x
  name: State X
  as-of: 2026-01-01
  taxes: [ { name: Sales tax, rate: 8% } ]
  taxable: { parts: yes, fluids: yes, labor: no, cores: no }
  === b.units.yaml
  kind: units
  units:
    birch-6:
      name: Birch-6
      layout: rear
      gears: 6
      fluid-class: B
      traits: [bands]
      capacities: { dry: 11.6 qt }
      limits:
        slip: { rows: [ { most: 60 rpm } ] }
        line-pressure: { rows: [ { when: { fluid-temperature: 150..200 F }, least: 60 psi } ], source: bulletin 7 }
    cedar-8: { name: Cedar-8, layout: front, gears: 8, fluid-class: B }
  === r.rules.yaml
  kind: rules
  roles:
    torque-converter: { name: Torque converter, of: part }
    fluid: { name: Fluid, of: part }
    cooler-flush: { name: Cooler flush, of: work }
  findings:
    coolant-in-fluid:
      name: Coolant in the fluid
      kind: yes-no
      sensitivity: 300 mg/kg
      healthy: Clear red fluid.
      test: Test kit on a fresh sample.
    pan-debris: { name: Debris in the pan, kind: scale, scale: [clean, paste, flakes], normal: paste }
    slip: { name: Clutch slip, kind: measurement, dimension: rotation }
    line-pressure: { name: Line pressure, kind: measurement, dimension: pressure }
    fluid-temperature: { name: Fluid temperature, kind: measurement, dimension: temperature }
  records:
    flush-sheet: { name: Cooler flush, counted: pulsed-flush }
  rules:
    coolant-spoils:
      name: Coolant spoils converters
      when: { finding: coolant-in-fluid }
      requires: [ { role: torque-converter } ]
      because: The lining comes loose.
      basis: trade
  === l.labor.yaml
  kind: labor
  cautions:
    hot-fluid: { text: Fluid is hot enough to burn., authority: the vehicle maker }
  steps:
    unit-out: { name: Unit out, hours: 6.6 }
  operations:
    rr-unit:
      name: Remove and refit
      work: removal
      rate: bench
      hours: 1.0
      hours-by: { birch-6: 1.2 }
      steps: [unit-out]
      adders:
        rust: { name: Rusted bolts, hours: 0.5, judged: yes }
        skid-plate: { name: Skid plate, hours: 0.3, when: { feature: skid-plate } }
      cautions: [hot-fluid]
    flush: { name: Flush the cooler, work: cooling, rate: general, hours: 0.6, role: cooler-flush, record: flush-sheet }
    diesel-check: { name: Diesel check, work: diagnosis, hours: 0.4, fits: [cedar-8] }
  === p.parts.yaml
  kind: parts
  supplier: northfen
  parts:
    TC-B:
      name: Torque converter
      kind: converter
      role: torque-converter
      fits: [birch-6]
      condition: rebuilt
      cost: 265.00
      core: 120.00
    TC-C: { name: Torque converter, kind: converter, role: torque-converter, fits: [cedar-8], cost: 300.00 }
    TC-A: { name: First converter, kind: converter, fits: [birch-6], superseded-by: { part: TC-B } }
    FL-1: { name: Fluid class B, kind: fluid, role: fluid, unit: quart, fluid-class: B, cost: 5.20 }
    0071: { name: Pan gasket, kind: soft, fits: [birch-6], cost: 9.00 }
  === o.template.yaml
  kind: template
  id: coolant-work
  name: After coolant
  parameters:
    converter: { type: part, role: torque-converter, say: Which converter goes in. }
    cleaning: { type: operation, default: flush }
  lines:
    - part: $converter
    - operation: $cleaning
`;
