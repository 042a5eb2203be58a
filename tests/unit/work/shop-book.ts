/**
 * A book of invented families, parts and prices with the rules that published sources and common practice give. Row ids
 * beside rules are those of the list of published values; figures of limits are from the source named, for tests only.
 */
import { bookOf, type TestBook, type Texts } from './fixture.ts';

const RULES = `
roles:
  torque-converter: {name: Torque converter, of: part}
  friction-set: {name: Friction plates, of: part}
  band-set: {name: Bands, of: part}
  seal-set: {name: Seals, of: part}
  nylon-washers: {name: Nylon washers, of: part}
  gasket-set: {name: Gaskets, of: part}
  sealing-rings: {name: Sealing rings, of: part}
  filter: {name: Filter, of: part}
  inline-filter: {name: In-line filter, of: part}
  radiator: {name: Radiator, of: part}
  cooler: {name: External cooler, of: part}
  hoses: {name: Radiator hoses, of: part}
  fluid: {name: Transmission fluid, of: part}
  transfer-fluid: {name: Transfer case fluid, of: part}
  valve-body: {name: Valve body, of: part}
  solenoid: {name: Solenoid, of: part}
  exchange-unit: {name: Exchange unit, of: part}
  used-unit: {name: Used unit, of: part}
  transfer-case: {name: Transfer case, of: part}
  cvt-unit: {name: CVT assembly, of: part}
  overhaul: {name: Overhaul, of: work}
  unit-removal: {name: Unit out and in, of: work}
  cooler-fitting: {name: Fitting the cooler, of: work}
  cooler-flush: {name: Cooler flush, of: work}
  flow-test: {name: Cooler flow test, of: work}
  fluid-change: {name: Flush and return, of: work}
  source-proof: {name: Proof of the coolant source, of: work}
  programming: {name: Programming, of: work}
  relearn: {name: Relearn drive, of: work}
  hv-off: {name: High voltage made safe, of: work}
  bolt-check: {name: Flexplate bolt check, of: work}
  water-search: {name: Search for the water entry, of: work}
  alignment: {name: Wheel alignment, of: work}

findings:
  fluid-temperature: {name: Fluid temperature, kind: measurement, dimension: temperature}
  coolant-in-fluid: {name: Coolant in the fluid, kind: yes-no, sensitivity: 300 mg/kg, cautions: [contaminated-fluid]}
  cooler-tests-good: {name: Cooler holds pressure, kind: yes-no}
  water-in-fluid: {name: Water in the fluid, kind: yes-no}
  water-content: {name: Water content, kind: measurement, dimension: concentration}
  pan-debris: {name: Metal in the pan, kind: scale, scale: [clean, paste, flakes, pieces], normal: paste}
  clutch-material: {name: Clutch lining in the fluid, kind: yes-no}
  magnets: {name: CVT magnets, kind: scale, scale: [clean, typical, foreign], normal: typical}
  metal-inside: {name: Metal has gone through the unit, kind: yes-no}
  bearing-failed: {name: Bearing failed, kind: yes-no, implies: [metal-inside]}
  fluid-discolored: {name: Fluid discolored, kind: yes-no}
  high-mileage: {name: High mileage, kind: yes-no}
  converter-blue: {name: Converter blue from heat, kind: yes-no}
  converter-debris: {name: Debris of the converter clutch, kind: yes-no}
  cooler-flow: {name: Cooler flow, kind: measurement, dimension: flow}
  overheated: {name: Overheated, kind: yes-no}
  case-cracked: {name: Case cracked, kind: yes-no}
  four-wheel-bind: {name: Binds in turns, kind: yes-no}
  tire-difference: {name: Difference of tire circumferences, kind: measurement, dimension: length}
  level-temperature: {name: Fluid temperature at the level check, kind: measurement, dimension: temperature}
  converter-seating: {name: Converter seating depth, kind: measurement, dimension: length}
  end-play: {name: Input end play, kind: measurement, dimension: length}
  pump-broken: {name: Pump broken, kind: yes-no}

records:
  external-check: {name: Outside check, needs: [on, by, result], early: yes}
  code-readout: {name: Codes as found, needs: [on, codes], early: yes, as-found: yes}
  pressure-test: {name: Pressure test, needs: [on], early: yes, as-found: yes}
  cooler-flush:
    name: Cooler flush
    counted: pulsed-flush
    needs: [on, by, duration, forward, reverse, flow, fluid-temperature]
    least: {turnovers: 8, fluid-temperature: 140 F, duration: 15 min}
    cautions: [hot-fluid, compressed-air]
  flow-test: {name: Cooler flow test, counted: flow-test, measures: [cooler-flow], needs: [on, proof], cautions: [hot-fluid]}
  level-check: {name: Fluid level, counted: level-check, measures: [level-temperature]}
  install-check: {name: Install check, counted: measurements, measures: [converter-seating], early: yes}
  teardown-measures: {name: Measured before teardown, counted: measurements, measures: [end-play], as-found: yes}
  assembly-measures: {name: Measured after assembly, counted: measurements, measures: [end-play]}
  fluid-exchange: {name: Drain and fill, counted: drain-and-fill, needs: [drained, total, fills], most: {residual: 10%}}
  programming: {name: Programming, counted: programming, needs: [unit-number, calibration-after], early: yes}
  source-proof: {name: Proof of the coolant source, needs: [on, proof]}
  road-test: {name: Road test, counted: road-test, least: {distance: 8 mi}}

replacements:
  converter:
    role: torque-converter
    accepted: [converter-blue, coolant-in-fluid, metal-inside, clutch-material]
    not-accepted: [fluid-discolored, high-mileage]
    because: Color and mileage alone condemn no converter.

rules:
  # GLY-01: the seven steps; GLY-03 for the converter.
  coolant-overhaul:
    when: {finding: coolant-in-fluid, none: [{option: [put-back]}]}
    requires:
      - {role: overhaul}
      - {role: seal-set, condition: new}
      - {role: friction-set, condition: new}
      - {role: band-set, condition: new}
      - {role: nylon-washers, condition: new}
      - {role: gasket-set, condition: new}
      - {role: filter, condition: new}
    forbids: [fluid-change]
    because: Coolant attacks seals and the glue of the lining. Flush and return jobs fail months later.
    say: Coolant loosens the lining of the clutch plates.
    basis: maker
    source: GLY-01
  coolant-converter:
    when: {finding: coolant-in-fluid}
    requires: [{role: torque-converter}]
    forbids-reuse: [torque-converter]
    because: The converter holds coolant behind one port.
    basis: maker
    source: GLY-03
  coolant-source:
    when: {finding: coolant-in-fluid}
    requires: [{any-of: [radiator, cooler, source-proof]}]
    withholds: [plan-24]
    because: A new unit on the old leak fails again.
    basis: trade
  # GLY-04, FLOW-02, FLOW-07.
  coolant-lines:
    when: {any: [{finding: coolant-in-fluid}, {finding: clutch-material}]}
    requires: [{role: cooler-flush}, {role: flow-test}]
    needs-record: [cooler-flush, flow-test]
    because: The lines hold what the unit held.
    basis: maker
    source: GLY-01, GLY-04
  # GLY-02.
  cooler-before-flush:
    when: {finding: coolant-in-fluid, role: cooler-fitting}
    order: [{first: cooler-fitting, next: cooler-flush}]
    because: Lines flushed before the leak is cured fill with coolant again.
    basis: maker
    source: GLY-02
  # Practice only, so no more than advice.
  coolant-electric:
    when: {finding: coolant-in-fluid}
    advises: [{role: solenoid}, {role: hoses}]
    because: Coolant sat on their coils.
    basis: practice
  water-paper-lining:
    when: {finding: water-in-fluid, lining: paper}
    requires: [{role: torque-converter}]
    forbids-reuse: [torque-converter]
    because: Wet paper lining lets go.
    basis: trade
    source: GLY-13
  water-beyond:
    when: {finding: water-content, judged: beyond}
    implies: [water-in-fluid]
    because: More water than the family allows.
    basis: trade
    source: GLY-09
  water-entry:
    when: {finding: water-in-fluid}
    requires: [{role: water-search}]
    because: It came in somewhere.
    basis: trade
  metal-flakes:
    when: {finding: pan-debris, at-least: flakes}
    implies: [metal-inside]
    because: Flakes are parts coming apart.
    basis: maker
  metal-cooler:
    when: {finding: metal-inside}
    requires: [{any-of: [cooler-flush, cooler, radiator]}, {role: flow-test}]
    forbids-reuse: [filter]
    needs-record: [flow-test]
    because: What went around is in the cooler too.
    basis: maker
    source: FLOW-02
  low-flow:
    when: {finding: cooler-flow, judged: beyond}
    requires: [{any-of: [cooler-flush, cooler, radiator]}]
    because: Too little fluid gets through.
    basis: maker
  overheated-cooler:
    when: {finding: overheated}
    advises: [{role: cooler}]
    withholds: [plan-24]
    because: Heat that is not carried off comes back.
    basis: practice
  valve-body-programming:
    when:
      any: [{role: valve-body}, {role: exchange-unit}]
      trait: characterized
    requires: [{role: programming}, {role: relearn}]
    needs-record: [programming]
    because: The module needs the data of the new part.
    basis: maker
  converter-debris-bolts:
    when: {finding: converter-debris, trait: flexplate-bulletin}
    requires: [{role: bolt-check}]
    because: Long bolts or missing washers spoil the converter clutch.
    basis: maker
  install-is-measured:
    when: {work: install}
    needs-record: [install-check]
    because: A converter that is not seated breaks the pump.
    basis: practice
  bind-needs-tires:
    when: {finding: four-wheel-bind, drive: [4wd, awd]}
    needs-finding: [tire-difference]
    because: Unequal tires bind just as a transfer case does.
    basis: trade
  unequal-tires:
    when: {finding: tire-difference, judged: beyond}
    forbids: [transfer-case]
    because: Cure the tires and drive it again.
    basis: trade
  cracked-case:
    when: {finding: case-cracked, option: [exchange]}
    risks-core: [exchange-unit]
    because: Suppliers credit no cracked core.
    basis: trade
  high-voltage:
    when: {trait: high-voltage, work: removal}
    requires: [{role: hv-off}]
    order: [{first: hv-off, next: unit-removal}]
    cautions: [high-voltage, implants]
    because: Nothing comes off before the high voltage is off.
    basis: maker
  cvt-foreign:
    when: {finding: magnets, at-least: foreign, trait: cvt}
    requires: [{role: cvt-unit}]
    because: Belt and pulleys run as a pair.
    basis: maker
  cvt-typical:
    when: {finding: magnets, is: typical, trait: cvt}
    forbids: [cvt-unit]
    because: Typical build-up allows the partial repair.
    basis: maker
  whole-unit-flow:
    when: {any: [{role: overhaul}, {role: exchange-unit}, {role: used-unit}]}
    requires: [{role: fluid}, {role: flow-test}]
    because: No unit goes on an untested cooler.
    basis: maker
    source: FLOW-02
`;

/** FLOW-04: General Motors service manual 2003, minimum flow by fluid temperature, steel / aluminum, gal/min. */
export const FLOW_04: readonly (readonly [number, number, string, string])[] = [
  [65, 66, '0.6', '0.5'],
  [67, 70, '0.7', '0.6'],
  [71, 75, '0.8', '0.7'],
  [76, 80, '0.9', '0.8'],
  [81, 84, '1.0', '0.9'],
  [85, 89, '1.1', '1.0'],
  [90, 94, '1.2', '1.1'],
  [95, 98, '1.3', '1.2'],
  [99, 103, '1.4', '1.3'],
  [104, 108, '1.5', '1.4'],
  [109, 112, '1.6', '1.5'],
  [113, 117, '1.7', '1.6'],
  [118, 120, '1.8', '1.7'],
];

const FLOW_ROWS = FLOW_04.flatMap(([low, high, steel, aluminum]) => [
  `        - {when: {fluid-temperature: ${low}..${high} F, cooler-material: steel}, least: ${steel} gal/min}`,
  `        - {when: {fluid-temperature: ${low}..${high} F, cooler-material: aluminum}, least: ${aluminum} gal/min}`,
]).join('\n');

const UNITS = `
units:
  birch-6:
    name: Birch-6
    layout: rear
    gears: 6
    traits: [electronic, flexplate-bulletin]
    fluid-class: B
    capacities: {dry: 11.62 qt, service: 5 qt, converter: 3.9 qt, cooler-and-lines: 1.6 qt, includes: [converter, cooler-and-lines]}
    converter-lining: paper
    cooler: {kind: in-radiator, material: steel}
    components:
      [torque-converter, friction-set, seal-set, nylon-washers, gasket-set, sealing-rings, filter, radiator, cooler, hoses,
       fluid, transfer-fluid, solenoid, valve-body, exchange-unit, used-unit, transfer-case]
    limits:
      cooler-flow:
        source: FLOW-04
        rows:
${FLOW_ROWS}
      tire-difference: {rows: [{most: 0.25 in}], source: trade article on all-wheel drive tires}
      converter-seating: {rows: [{least: 0.90 in}]}
      end-play: {rows: [{least: 0.005 in, most: 0.025 in}]}
      water-content: {rows: [{most: 600 mg/kg}], source: GLY-09}
  alder-4:
    name: Alder-4
    layout: front
    gears: 4
    traits: [bands]
    fluid-class: A
    capacities: {dry: 7.4 qt, service: 4.6 qt}
    converter-lining: carbon
    cooler: {kind: external, material: aluminum}
    limits:
      cooler-flow:
        source: FLOW-04
        rows:
${FLOW_ROWS}
      water-content: {rows: [{most: 0.2%}], source: published heavy-duty tips}
  cedar-8:
    name: Cedar-8
    layout: rear
    gears: 8
    traits: [electronic, characterized]
    fluid-class: B
    components: [torque-converter, friction-set, seal-set, nylon-washers, gasket-set, filter, valve-body, solenoid, cooler, radiator, hoses, fluid]
    converter-lining: carbon
    limits:
      cooler-flow: {rows: [{when: {fluid-temperature: 185..200 F}, least: 0.9 gal/min}], source: FLOW-06}
      level-temperature: {rows: [{least: 35 C, most: 45 C}]}
  fir-e:
    name: Fir-E
    layout: hybrid
    traits: [high-voltage]
    fluid-class: E
    components: [filter, fluid]
  dogwood-v:
    name: Dogwood-V
    layout: front
    traits: [cvt]
    fluid-class: V
    components: [cvt-unit, filter, fluid]
`;

const PARTS = `
parts:
  TC-R: {name: 'Torque converter, rebuilt', kind: converter, role: torque-converter, condition: rebuilt, core: 120.00}
  OK-B6:
    name: Overhaul kit
    kind: kit
    condition: new
    contents: [{part: SS-B6}, {role: gasket-set}, {role: sealing-rings}]
  SS-B6: {name: Seal set, kind: soft, role: seal-set, condition: new}
  FR-B6: {name: Friction set, kind: soft, role: friction-set, condition: new}
  FR-USED: {name: Friction plates, kind: soft, role: friction-set, condition: used}
  BD-A4: {name: Band, kind: soft, role: band-set, condition: new, fits: [alder-4]}
  NW-B6: {name: Nylon washers, kind: soft, role: nylon-washers, condition: new}
  FL-B6: {name: Filter, kind: filter, role: filter, condition: new}
  RAD: {name: Radiator, kind: cooling, role: radiator, condition: new}
  CLR: {name: External cooler, kind: cooling, role: cooler, condition: new}
  HOS: {name: Hose set, kind: cooling, role: hoses, condition: new}
  ATF-B: {name: Fluid B, kind: fluid, role: fluid, fluid-class: B, unit: quart, fits: [birch-6, cedar-8]}
  ATF-A: {name: Fluid A, kind: fluid, role: fluid, fluid-class: A, unit: quart, fits: [alder-4]}
  ATF-E: {name: Fluid E, kind: fluid, role: fluid, fluid-class: E, unit: quart, fits: [fir-e]}
  ATF-V: {name: Fluid V, kind: fluid, role: fluid, fluid-class: V, unit: quart, fits: [dogwood-v]}
  OIL-E: {name: Engine oil, kind: fluid, role: fluid, fluid-class: engine-oil, unit: quart, fits: []}
  TCF: {name: Transfer case fluid, kind: fluid, role: transfer-fluid, fluid-class: T, unit: quart}
  VB-C8: {name: Valve body, kind: hard, role: valve-body, condition: new}
  SOL: {name: Solenoid, kind: electrical, role: solenoid, condition: new}
  EX-B6: {name: Exchange unit, kind: unit, role: exchange-unit, condition: remanufactured, core: 450.00}
  US-B6: {name: Used unit, kind: unit, role: used-unit, condition: used}
  XFER: {name: Transfer case, kind: hard, role: transfer-case, condition: rebuilt}
  CVT: {name: CVT assembly, kind: unit, role: cvt-unit, condition: remanufactured, fits: [dogwood-v]}
`;

const LABOR = `
cautions:
  hot-fluid: {text: Fluid at test temperature burns skin and eyes., authority: the vehicle maker; the safety data sheet of the fluid}
  compressed-air:
    text: Air used for cleaning can drive chips into eyes and skin.
    authority: OSHA 29 CFR 1910.242(b)
    from: {air-pressure: 30 psi}
  contaminated-fluid: {text: Keep fluid with coolant in it apart from other waste oil., authority: EPA and the waste hauler}
  high-voltage: {text: High voltage kills. Only a qualified person works on it., authority: the vehicle maker's procedure}
  implants: {text: Nobody with a medical implant works near it., authority: the vehicle maker}
  lift: {text: Weight shifts when the unit comes out., authority: lift maker; ANSI/ALI ALOIM}
operations:
  diagnose: {name: Diagnosis, work: diagnosis, hours: '1.5'}
  rr-unit: {name: Unit out and in, work: removal, role: unit-removal, hours: '7.8', includes: [install-unit], cautions: [lift]}
  install-unit: {name: Put the unit in, work: install, hours: '3.9'}
  overhaul: {name: Overhaul, work: bench, role: overhaul, hours: '9.5'}
  fit-cooler: {name: Fit the cooler, work: cooling, role: cooler-fitting, hours: '1.0'}
  flush-cooler: {name: Flush the cooler, work: cooling, role: cooler-flush, hours: '0.8', record: cooler-flush, cautions: [hot-fluid, compressed-air]}
  test-flow:
    name: Flow test
    work: cooling
    role: flow-test
    hours: '0.4'
    record: flow-test
    parts: [{role: fluid, quantity: 1}]
    cautions: [hot-fluid]
  cooler-service: {name: Cooler service, work: cooling, hours: '1.2', includes: [flush-cooler, test-flow]}
  flush-return: {name: Flush and return, work: in-vehicle, role: fluid-change, hours: '1.0'}
  prove-source: {name: Prove the coolant source, work: diagnosis, role: source-proof, hours: '1.0', record: source-proof}
  program: {name: Program the module, work: programming, role: programming, hours: '0.5', record: programming}
  relearn: {name: Relearn drive, work: programming, role: relearn, hours: '0.3'}
  hv-off: {name: Make high voltage safe, work: removal, role: hv-off, hours: '0.5'}
  check-bolts: {name: Check flexplate bolts, work: install, role: bolt-check, hours: '0.2'}
  find-water: {name: Find the water entry, work: diagnosis, role: water-search, hours: '0.5'}
`;

const SHOP = `
warranties:
  plan-24:
    name: 24 months or 24,000 miles
    months: 24
    distance: 24000 mi
    requires: [flow-test]
    includes: [the unit and its converter, labor to fit them]
    excludes: [cooler and lines, electronics outside the unit, towing]
  plan-12: {name: 12 months or 12,000 miles, months: 12, distance: 12000 mi, includes: [the unit], excludes: [the cooler]}
  parts-90: {name: '90 days, parts', months: 3, covers: parts-only, includes: [the unit], excludes: [labor]}
`;

export const TEXTS: Texts = { rules: RULES, units: UNITS, parts: PARTS, labor: LABOR, shop: SHOP };

export const shopBook: TestBook = bookOf(TEXTS);

/** Every line that coolant in a Birch-6 asks for, in the right order. */
export const COMPLETE = `
  - operation: rr-unit
  - operation: overhaul
  - part: OK-B6
  - part: FR-B6
  - part: NW-B6
  - part: FL-B6
  - part: TC-R
  - part: RAD
  - operation: fit-cooler
  - operation: flush-cooler
  - operation: test-flow
  - {part: ATF-B, quantity: 13}
  - {part: SOL, optional: yes}
  - {part: HOS, optional: yes}
`;
