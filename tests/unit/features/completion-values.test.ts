// biome-ignore-all lint/suspicious/noTemplateCurlyInString: tab stops of snippets look so
import { describe, expect, it } from 'vitest';
import { Estimates } from '../../../server/src/estimate/estimates.ts';
import { resolveCompletion } from '../../../server/src/features/completion.ts';
import { BOOK } from './completion-book.ts';
import { completed, shownAt } from './completion-shown.ts';
import { fixture } from './fixture.ts';

const HEAD = `kind: job
id: J-1
opened: 2026-03-01
unit: birch-6
`;

function inJob(rest: string, client = {}, eol?: string) {
  return inFile('j.job.yaml', HEAD + rest, client, eol);
}

function inFile(name: string, text: string, client = {}, eol?: string) {
  return completed(`${BOOK.trimEnd()}\n  === ${name}\n${text.replace(/^(?=.)/gm, '  ')}`, client, eol);
}

describe('parts', () => {
  it('come in the order of how they fit the unit, with name, condition and price', () => {
    expect(inJob('lines:\n  - part: <|>\n').items).toEqual([
      '0071 - Pan gasket : 18.00',
      'TC-B - Torque converter, rebuilt : 397.50 + core 120.00',
      'FL-1 - Fluid class B : 10.40',
      'TC-C - Torque converter : 450.00',
      'TC-A - First converter; superseded by TC-B : 397.50 + core 120.00 (old)',
    ]);
  });

  it('that the job lacks come before the others that fit', () => {
    const { labels } = inJob('findings: { coolant-in-fluid: yes }\nlines:\n  - part: <|>\n');
    expect(labels.slice(0, 2)).toEqual(['TC-B', '0071']);
  });

  it('follow the unit of the job that a case starts from', () => {
    const job = '  === j.job.yaml\n  kind: job\n  id: J-1\n  opened: 2026-03-01\n  unit: cedar-8\n';
    const text = `${job}  === c.cases.yaml\n  kind: cases\n  cases:\n    a:\n      job: J-1\n      given:\n        lines: [{ part: <|> }]\n`;
    expect(completed(`${BOOK.trimEnd()}\n${text}`).labels[0]).toBe('TC-C');
  });

  it.each([
    ['plain', 'TC<|>', 'TC-B', 'TC-B'],
    ['in quotes', '"TC<|>"', 'TC-B', '"TC-B"'],
    ['in a quote that is still open', "'TC<|>", 'TC-B', "'TC-B'"],
    ['over what stands there', 'TC<|>-Z', 'TC-B', 'TC-B'],
    ['before a comment', '<|># the rebuilt one', 'TC-B', 'TC-B # the rebuilt one'],
  ])('are written %s', (_, typed, label, expected) => {
    expect(inJob(`lines:\n  - part: ${typed}\n`).accept(label)).toBe(
      `${HEAD}lines:\n  - part: ${expected}\n`,
    );
  });

  it('get the space behind the colon that is missing', () => {
    expect(inJob('lines:\n  - part:<|>\n').accept('TC-B')).toBe(`${HEAD}lines:\n  - part: TC-B\n`);
    expect(inJob('lines: [{ part:<|>}]\n').accept('TC-B')).toBe(`${HEAD}lines: [{ part: TC-B}]\n`);
  });

  it.each([
    ['- odd', "'- odd'"],
    ['a: b', "'a: b'"],
    ['#7', "'#7'"],
    ['{x}', "'{x}'"],
    ["it's", "it's"],
    ['yes', 'yes'],
    ['1_000', '1_000'],
  ])('with the number %s are written so that they read back', (number, source) => {
    const parts = `  === q.parts.yaml\n  kind: parts\n  parts:\n    ${JSON.stringify(number)}: { name: Odd, kind: soft, fits: [birch-6] }\n`;
    const job = `  === j.job.yaml\n${HEAD.replace(/^(?=.)/gm, '  ')}  lines:\n    - part: <|>\n`;
    const { accept } = completed(`${BOOK.trimEnd()}\n${parts}${job}`);
    const text = accept(number).split('\n').at(-2)!.slice('  - part: '.length);
    expect([source, source.replaceAll("'", '"')]).toContain(text);
  });

  it('of a price file are offered like the others', () => {
    const files =
      '  === n.parts.yaml\n  kind: parts\n  from: { file: n.csv, kind: soft, columns: { number: No, name: Name, cost: Cost } }\n  === n.csv\n  No,Name,Cost\n  N-1,Seal,2.00\n';
    const job = `  === j.job.yaml\n${HEAD.replace(/^(?=.)/gm, '  ')}  lines:\n    - part: N<|>\n`;
    expect(completed(`${BOOK.trimEnd()}\n${files}${job}`).items).toContain('N-1 - Seal : 4.00');
  });

  it('tell all that a hover tells when they are looked at', () => {
    const { at, item } = inJob('lines:\n  - part: <|>\n');
    const ask = { estimates: new Estimates(at.book), file: at.file, markdown: false };
    const { documentation } = resolveCompletion(ask, item('TC-B'));
    expect((documentation as { value: string }).value).toMatch(
      /Price each {2,}\$397\.50 {2,}\$265\.00 × 1\.5/,
    );
  });
});

describe('ids', () => {
  it.each([
    [
      'operations, with hours for the family',
      'lines:\n  - operation: <|>\n',
      [
        'rr-unit - Remove and refit : 1.2 h + 6.6 h access',
        'flush - Flush the cooler : 0.6 h',
        'diesel-check - Diesel check : 0.4 h',
      ],
    ],
    [
      'roles',
      'reuse: [<|>]\n',
      [
        'torque-converter - Torque converter : part',
        'fluid - Fluid : part',
        'cooler-flush - Cooler flush : work',
      ],
    ],
    [
      'roles that the list does not have yet',
      'reuse: [fluid, <|>, cooler-flush]\n',
      ['torque-converter - Torque converter : part'],
    ],
    ['warranty plans', 'warranty: <|>\n', ['plan-12 - 12 months or 12,000 miles : 12 months or 12000 mi']],
    ['fees', 'lines:\n  - fee: <|>\n', ['waste - Waste fluid : 18.00']],
    ['payers', 'payers:\n  - payer: <|>\n', ['fleet-a - Fleet A : fleet']],
    ['customers', 'customer: <|>\n', ['oakes - W. Oakes : 555-0117']],
    ['suppliers', 'lines:\n  - sublet: x\n    supplier: <|>\n', ['northfen - Northfen : 555-0181']],
    ['records', 'records:\n  - record: <|>\n', ['flush-sheet - Cooler flush : pulsed-flush']],
    [
      'findings',
      'cause: { what: x, finding: s<|> }\n',
      [
        'coolant-in-fluid - Coolant in the fluid : yes or no',
        'pan-debris - Debris in the pan : clean < paste < flakes',
        'slip - Clutch slip : rotation',
        'line-pressure - Line pressure : pressure',
        'fluid-temperature - Fluid temperature : temperature',
      ],
    ],
    [
      'add-ons of the operation',
      'lines:\n  - operation: rr-unit\n    adders: [<|>]\n',
      ['rust - Rusted bolts : 0.5 h, judged', 'skid-plate - Skid plate : 0.3 h'],
    ],
    [
      'options of the job',
      'options: { a: { name: A, kind: overhaul } }\nchosen: <|>\n',
      ['a - A : overhaul'],
    ],
    [
      'parameters of the template',
      'lines:\n  - template: coolant-work\n    with: { <|> }\n',
      ['converter - Which converter goes in. : part', 'cleaning : operation, else flush'],
    ],
    [
      'parts for a parameter, of its role',
      'lines:\n  - template: coolant-work\n    with: { converter: <|> }\n',
      ['TC-B - Torque converter, rebuilt : 397.50 + core 120.00', 'TC-C - Torque converter : 450.00'],
    ],
  ])('%s', (_, text, expected) => {
    expect(inJob(text).items).toEqual(expected);
  });

  it.each([
    [
      'labor rates, with the price of an hour',
      'q.labor.yaml',
      'kind: labor\noperations:\n  a:\n    rate: <|>\n',
      ['bench - Bench : 155.00 an hour', 'general - General : 148.00 an hour'],
    ],
    [
      'price schedules',
      'b/shop.yaml',
      'kind: shop\nextends: ../shop.yaml\npricing:\n  parts: <|>\n',
      ['std : 2 bands, whole'],
    ],
    [
      'access steps',
      'q.labor.yaml',
      'kind: labor\noperations:\n  a:\n    steps: [<|>\n',
      ['unit-out - Unit out : 6.6 h'],
    ],
    [
      'cautions',
      'q.labor.yaml',
      'kind: labor\noperations:\n  a:\n    cautions:\n      - <|>\n',
      ['hot-fluid - Fluid is hot enough to burn. : the vehicle maker'],
    ],
    [
      'jurisdictions',
      'b/shop.yaml',
      'kind: shop\njurisdiction: <|>\n',
      ['state-x - State X : as of 2026-01-01'],
    ],
    [
      'unit families',
      'q.parts.yaml',
      'kind: parts\nparts:\n  A:\n    fits:\n      - <|>\n',
      ['birch-6 - Birch-6 : rear, 6 gears, fluid B', 'cedar-8 - Cedar-8 : front, 8 gears, fluid B'],
    ],
    [
      'rules',
      'q.units.yaml',
      'kind: units\nunits:\n  a:\n    rules:\n      <|>\n',
      ['coolant-spoils - Coolant spoils converters : trade'],
    ],
    [
      'traits that other families have',
      'q.units.yaml',
      'kind: units\nunits:\n  a:\n    traits: [<|>]\n',
      ['bands'],
    ],
    ['fluid classes', 'q.units.yaml', 'kind: units\nunits:\n  a:\n    fluid-class: <|>\n', ['B']],
    [
      'tax classes',
      'q.parts.yaml',
      'kind: parts\nparts:\n  A:\n    tax-class: <|>\n',
      ['parts', 'fluids', 'labor', 'cores'],
    ],
    [
      'hours by family, those not given yet',
      'q.labor.yaml',
      'kind: labor\noperations:\n  a:\n    hours-by: { birch-6: 1.0, <|> }\n',
      ['cedar-8 - Cedar-8 : front, 8 gears, fluid B'],
    ],
    [
      'the words of a map',
      'b/shop.yaml',
      'kind: shop\npricing:\n  by-kind:\n    fluid: std\n    ha<|>: std\n',
      [
        'soft',
        'hard',
        'kit',
        'filter',
        'electrical',
        'cooling',
        'converter',
        'unit',
        'hardware',
        'consumable',
      ],
    ],
    [
      'parameters of the template being written, those that suit first',
      'q.template.yaml',
      'kind: template\nid: q\nname: Q\nparameters:\n  n: { type: number }\n  op: { type: operation, say: Which one }\nlines:\n  - operation: $<|>\n',
      ['$op - Which one : operation', '$n : number'],
    ],
  ])('%s', (_, name, text, expected) => {
    expect(inFile(name, text).items).toEqual(expected);
  });

  it('templates bring their parameters along', () => {
    expect(inJob('lines:\n  - template: <|>\n').accept('coolant-work')).toBe(
      `${HEAD}lines:\n  - template: coolant-work\n    with:\n      converter: $1\n`,
    );
    expect(inJob('lines:\n  - template: <|>\n    with: { converter: TC-B }\n').accept('coolant-work')).toBe(
      `${HEAD}lines:\n  - template: coolant-work\n    with: { converter: TC-B }\n`,
    );
  });

  it('lists that are not begun get their brackets', () => {
    expect(inJob('reuse: <|>\n').accept('fluid')).toBe(`${HEAD}reuse: [fluid]\n`);
    expect(inJob('reuse:\n  <|>\n').accept('fluid')).toBe(`${HEAD}reuse:\n  - fluid\n`);
    expect(inJob('reuse: [fluid,<|>]\n').accept('cooler-flush')).toBe(
      `${HEAD}reuse: [fluid, cooler-flush]\n`,
    );
  });
});

describe('findings', () => {
  it('bring along what they are answered with', () => {
    const { accept } = inJob('findings:\n  <|>\n');
    expect(accept('coolant-in-fluid')).toBe(`${HEAD}findings:\n  coolant-in-fluid: \${1|yes,no|}\n`);
    expect(accept('pan-debris')).toBe(`${HEAD}findings:\n  pan-debris: \${1|clean,paste,flakes|}\n`);
    expect(accept('line-pressure')).toBe(`${HEAD}findings:\n  line-pressure: $1 psi\n`);
  });

  it.each([
    [
      'yes or no, and what a no is worth',
      'findings: { coolant-in-fluid: <|> }\n',
      ['yes : Coolant in the fluid', 'no : not found; the test sees no less than 300 mg/kg'],
    ],
    [
      'words of the scale',
      'findings:\n  pan-debris:\n    value: <|>\n',
      ['clean : normal', 'paste : normal', 'flakes : worse than normal'],
    ],
    [
      'what the row of a limit asks for',
      'findings:\n  line-pressure:\n    value: 60 psi\n    at:\n      <|>\n',
      [
        'coolant-in-fluid - Coolant in the fluid : yes or no',
        'pan-debris - Debris in the pan : clean < paste < flakes',
        'slip - Clutch slip : rotation',
        'line-pressure - Line pressure : pressure',
        'fluid-temperature - Fluid temperature : temperature',
      ],
    ],
  ])('%s', (_, text, expected) => {
    expect(inJob(text).items).toEqual(expected);
  });

  it('are measured in the unit that the limit of the family is written in', () => {
    expect(inJob('findings: { line-pressure: 55<|> }\n').labels[0]).toBe('55 psi');
    expect(inJob('findings: { line-pressure: 55 k<|> }\n').accept('55 kPa')).toBe(
      `${HEAD}findings: { line-pressure: 55 kPa }\n`,
    );
  });

  it('are asked for beside the finding of a condition', () => {
    const rule = 'kind: rules\nrules:\n  r:\n    when: { any: [ { finding: pan-debris, at-least: <|> } ] }\n';
    expect(inFile('q.rules.yaml', rule).labels).toEqual(['clean', 'paste', 'flakes']);
  });

  it('of a unit family itself are its facts', () => {
    const limit =
      'kind: units\nunits:\n  a:\n    limits:\n      slip:\n        rows:\n          - when: { cooler-material: <|> }\n';
    expect(inFile('q.units.yaml', limit).labels).toEqual(['steel', 'aluminum']);
  });
});

describe('single values', () => {
  it.each([
    [
      'what a word means',
      'vehicle: { drive: <|> }\n',
      [
        'fwd : Front-wheel drive',
        'rwd : Rear-wheel drive',
        '4wd : Four-wheel drive with a transfer case',
        'awd : All-wheel drive',
      ],
    ],
    [
      'yes and no, and which holds when left out',
      'lines:\n  - part: TC-B\n    supplied: <|>\n',
      ['yes', 'no : when left out'],
    ],
    [
      'units behind a number',
      'records:\n  - record: flush-sheet\n    flow: 1.3 g<|>\n',
      [
        '1.3 gal/min : US gallon per minute',
        '1.3 qt/min : US quart per minute',
        '1.3 L/min : liter per minute',
        '1.3 imp gal/min : imperial gallon per minute',
        '1.3 qt/s : US quart per second',
        '1.3 L/s : liter per second',
        '1.3 mL/min : milliliter per minute',
      ],
    ],
    [
      'days from today on',
      'presented: <|>\n',
      [
        '2026-03-04 : today, Wednesday',
        '2026-03-05 : tomorrow, Thursday',
        '2026-03-06 : in 2 days, Friday',
        '2026-03-07 : in 3 days, Saturday',
        '2026-03-11 : in 7 days, Wednesday',
        '2026-03-18 : in 14 days, Wednesday',
        '2026-04-03 : in 30 days, Friday',
        '2026-06-02 : in 90 days, Tuesday',
        '2026-03-03 : yesterday, Tuesday',
        '2026-02-25 : 7 days ago, Wednesday',
      ],
    ],
    ['so many days on', 'presented: +45<|>\n', ['2026-04-18 : in 45 days, Saturday']],
    ['so many days back', 'presented: -10<|>\n', ['2026-02-22 : 10 days ago, Sunday']],
    ['a percent sign', 'lines:\n  - part: TC-B\n    discount: 7.5<|>\n', ['7.5%']],
    [
      'hours and minutes',
      'lines:\n  - operation: flush\n    hours: 45<|>\n',
      ['45 h : hours', '45 min : minutes'],
    ],
  ])('%s', (_, text, expected) => {
    expect(inJob(text).items).toEqual(expected);
  });

  it('are examples where there is nothing to choose from', () => {
    expect(inJob('lines:\n  - part: TC-B\n    discount: <|>\n').items).toEqual(['5% : for example']);
  });

  it('are the model year that the VIN tells, first', () => {
    // 49 CFR 565.15, rows VIN-03 and VIN-20: position 10 is K; a digit in position 7 says before 2010, so 1989.
    expect(inJob('vehicle:\n  vin: 1M8GDM9AXKP042788\n  year: <|>\n').items[0]).toBe('1989 : from the VIN');
  });

  it('are selling units by any of their spellings', () => {
    const { item } = inFile('q.parts.yaml', 'kind: parts\nparts:\n  A:\n    unit: <|>\n');
    expect(item('each').filterText).toContain('ea');
  });

  it('are currencies with their names', () => {
    expect(inFile('b/shop.yaml', 'kind: shop\ncurrency: US<|>\n').items).toContain('USD : US Dollar');
  });
});

describe('files', () => {
  /** The folder of the book, as a host lists it. */
  const FOLDERS: Record<string, string[]> = {
    'file:///shop/': ['shop.yaml', 'pictures/', 'jobs/', '.git/'],
    'file:///shop/jobs/': ['j.job.yaml'],
    'file:///shop/pictures/': ['pan.jpg', 'sheet.csv', 'old/'],
  };
  const at = (path: string) => {
    const job = `  === jobs/j.job.yaml\n  kind: job\n  lines:\n    - operation: flush\n      picture: ${path}\n`;
    const made = fixture(`${BOOK.trimEnd()}\n${job}`);
    Object.assign(made.book.host, { list: (folder: string) => FOLDERS[folder] ?? [] });
    return shownAt(made, made.position);
  };

  it('are offered folder by folder, those of their sort first', () => {
    expect(at('<|>').labels).toEqual(['../']);
    expect(at('../<|>').labels).toEqual(['jobs/', 'pictures/']);
    expect(at('../pictures/<|>').labels).toEqual(['pan.jpg', 'old/', '../']);
    expect(at('../pictures/p<|>').accept('pan.jpg')).toContain('picture: ../pictures/pan.jpg\n');
  });

  it('never lie outside the book', () => {
    expect(at('../../<|>').labels).toEqual([]);
    expect(at('/etc/<|>').labels).toEqual([]);
  });

  it('are not offered by a host that cannot list them', () => {
    expect(inJob('records:\n  - record: flush-sheet\n    proof: <|>\n').labels).toEqual([]);
  });

  it('are other shop files for a shop that extends one', () => {
    expect(inFile('b/c/shop.yaml', 'kind: shop\nextends: <|>\n').items).toEqual([
      '../../shop.yaml : Test shop',
    ]);
  });
});
