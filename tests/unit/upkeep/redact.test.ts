/** A job made shareable: nothing that tells of a person is left, and it comes to the same. */
import { describe, expect, it } from 'vitest';
import { metaOf } from '../../../schemas/declare.ts';
import { jobKind } from '../../../schemas/kinds/job.ts';
import { explainCheckDigit, modelYearOf } from '../../../schemas/values/vin.ts';
import { alternativesOf, fieldsOf, isList, isObject, isRecord } from '../../../schemas/walk.ts';
import { Book } from '../../../server/src/book/book.ts';
import { type Host, NO_HOST } from '../../../server/src/book/host.ts';
import { Estimates } from '../../../server/src/estimate/estimates.ts';
import { problemsOf } from '../../../server/src/estimate/problems.ts';
import { redact } from '../../../server/src/upkeep/redact/redact.ts';
import { StandIns } from '../../../server/src/upkeep/redact/stand-ins.ts';
import { openSample } from '../sample/sample.ts';

/** The same draws at each run (mulberry32, public domain). */
function seeded(seed: number) {
  let state = seed;
  return (below: number) => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) % below;
  };
}

const ROOT = 'file:///book/';
const SHOP = `kind: shop
rates: { bench: { name: Bench, hourly: 150.00 } }
discounts: { returning: { name: Returning, percent: 5%, on: [labor] } }
customers:
  holloway-d: # the blue van
    name: Dana Holloway
    phone: 555-0117
    discount: returning
`;

/** The text of a job, made shareable in a small book. */
function shared(job: string, host: Host = NO_HOST): string {
  const book = new Book(ROOT, host);
  book.put(`${ROOT}shop.yaml`, SHOP);
  book.put(`${ROOT}J-1.job.yaml`, job);
  const made = redact(book, book.file(`${ROOT}J-1.job.yaml`)!, seeded(1));
  return made.files.get(made.job) as string;
}

function outcome(estimates: Estimates, id: string) {
  const { file } = estimates.book.definition('job', id)!.facts;
  return {
    totals: estimates.of(file)!.options.map(({ id, priced }) => [id, priced.total.value.toString()]),
    problems: problemsOf(estimates, file).map(({ problem, piece, start, end }) => [
      problem.code,
      problem.severity,
      file.source.rangeOf(piece, { start, end }),
    ]),
  };
}

/** Names of fields that tell of a person, as a reader of the files would list them; not taken from the declarations. */
const PERSONS = new Set(
  'phone email address vin plate by taken-by contact unit-number certificate customer'.split(' '),
);
const TEXTS = new Set(
  'name complaint say note test what evidence reason claim purchase-order picture proof video'.split(' '),
);

/** Texts of several words or a number that stand under such a name. */
function told(value: unknown, under = ''): { under: string; text: string }[] {
  if (typeof value === 'string') {
    const asked = PERSONS.has(under) || TEXTS.has(under);
    return asked && /\w\W+\w|\d{4}/.test(value) ? [{ under, text: value.trim() }] : [];
  }
  if (Array.isArray(value)) return value.flatMap((one) => told(one, under));
  if (value === null || typeof value !== 'object') return [];
  return Object.entries(value).flatMap(([key, one]) => told(one, key));
}

describe('the jobs of the sample', () => {
  const { book, estimates } = openSample();
  const ids = [...book.registry.ids('job')];
  const customers = [...book.shops()].map((file) => file.value.customers ?? {});

  it.each(ids)('%s keeps its totals and problems, and nothing that tells of a person', (id) => {
    const { file } = book.definition('job', id)!.facts;
    const made = redact(book, file, seeded(7));
    const texts = [...made.files].filter((one): one is [string, string] => typeof one[1] === 'string');
    const again = new Book(book.root, {
      read: (uri) => made.files.get(uri) as Uint8Array | undefined,
      size: (uri) => made.files.get(uri)?.length,
    });
    for (const [uri, text] of texts) again.put(uri, text);
    expect(outcome(new Estimates(again), id)).toEqual(outcome(estimates, id));

    const job = made.files.get(made.job) as string;
    expect(job).toHaveLength(file.source.length);
    const values = told(file.value);
    expect(values.length).toBeGreaterThan(9);
    for (const { text } of values) expect(job).not.toContain(text);
    const all = texts.map(([uri, text]) => `${uri.slice(book.root.length)}\n${text}`).join('\n');
    const persons = [...values, ...customers.flatMap((one) => told(one))].filter(({ under }) =>
      PERSONS.has(under),
    );
    for (const { text } of persons) expect(all).not.toContain(text);
    for (const customer of customers.flatMap((one) => Object.keys(one)))
      expect(all).not.toContain(`${customer}:`);
    for (const line of file.source.text().matchAll(/# .{12,}/g)) expect(job).not.toContain(line[0]);
    // No picture travels: where one was, there is a dot.
    for (const [, made_] of made.files)
      if (typeof made_ !== 'string') expect(made_.length).toBeLessThan(2000);
  });
});

describe('a job made shareable', () => {
  it('has one stand-in for one name, as long as it and written like it', () => {
    const job = shared(`kind: job
id: J-1
opened: 2026-03-02
unit: birch-6
customer: { name: Dana O'Neil-Ruiz, phone: (555) 0117 }
authorizations:
  - { on: 2026-03-02T10:00, by: "Dana O'Neil-Ruiz", how: telephone, contact: (555) 0117, amount: 12.50 }
`);
    const [, name, phone] = /name: (\S+ \S+), phone: (.*) \}/.exec(job)!;
    expect(name).toMatch(/^[A-Z][a-z]{3} [A-Z]'[A-Z][a-z]{3}-[A-Z][a-z]{3}$/);
    expect(phone).toMatch(/^\(\d{3}\) \d{4}$/);
    expect(job).toContain(`by: "${name}", how: telephone, contact: ${phone}, amount: 12.50`);
  });

  it('follows a customer of the shop by another id, with the same discount', () => {
    const book = new Book(ROOT, NO_HOST);
    book.put(`${ROOT}shop.yaml`, SHOP);
    book.put(`${ROOT}a.job.yaml`, 'kind: job\nid: J-1\nopened: 2026-03-02\nunit: b\ncustomer: holloway-d\n');
    const made = redact(book, book.file(`${ROOT}a.job.yaml`)!, seeded(1));
    const id = /customer: (.*)\n/.exec(made.files.get(`${ROOT}J-1.job.yaml`) as string)![1]!;
    expect(made.job).toBe(`${ROOT}J-1.job.yaml`);
    expect(id).toMatch(/^[a-z]{8}-[a-z]$/);
    expect(made.files.get(`${ROOT}shop.yaml`)).toMatch(
      new RegExp(
        `^customers:\n  ${id}: # [a-z]{3} [a-z]{4} [a-z]{3}\n    name: [A-Z][a-z]{3} [A-Z][a-z]{7}\n`,
        'm',
      ),
    );
    expect(made.files.get(`${ROOT}shop.yaml`)).toContain('discount: returning');
  });

  it.each([
    ['a field that nobody knows', 'custmer: { naem: Dana Holloway }'],
    ['a field of the shop’s own', 'x-driver: "Dana\\tHolloway"'],
    ['a field that wants something else', 'opened: Dana Holloway'],
    ['an id that nobody defines', 'chosen: Dana Holloway\nunit: holloway'],
    ['a finding', 'findings: { slip: Dana Holloway said so }'],
    ['the name of a finding', 'findings: { Dana Holloway: yes }'],
    ['a list in the place of a group', 'customer: [Dana Holloway]'],
    ['a text over several lines', 'complaint: >-\n  Dana\n  Holloway'],
    ['a comment behind the mark of a text', 'complaint: | # Dana Holloway\n  a'],
    ['letters written by their numbers', 'complaint: "\\x44ana \\u0048olloway"'],
    ['a repeat', 'vehicle: { make: &who Dana Holloway }\ncustomer: { name: *who }'],
    ['a quote that is not closed', 'vehicle:\n  make: "Torvane\ncustomer: Dana Holloway'],
    ['text that is no YAML', 'unit: birch\nDana Holloway called\n\tDana: [Holloway'],
    ['a make over several lines', 'vehicle:\n  make: Torvane\n    Dana Holloway'],
    ['a document below', 'unit: b\n---\nDana Holloway'],
    ['a name with a mark', 'complaint: &Holloway Dana'],
  ])('hides what stands in %s', (_, text) => {
    const job = shared(`kind: job\nid: J-1\n${text}\n`);
    expect(job).not.toMatch(/dana|holloway|\\x44|\\u0048/i);
    expect(job).toMatch(/^kind: job\nid: J-1\n/);
  });

  it('hides a name in ids and in names of files', () => {
    const job = shared(`kind: job
id: J-1
customer: { name: Dana Holloway }
vehicle: { plate: N 482 KRT }
options:
  dana-holloway: { name: Hers, kind: overhaul }
  n-482-krt: { name: Hers, kind: overhaul }
chosen: dana-holloway
findings: { slip: { value: yes, pictures: [{ picture: pictures/dana-holloway.png }] } }
`);
    expect(job).not.toMatch(/holloway|n-482/i);
    const [, id] = /^ {2}([a-z]{4}-[a-z]{8}): /m.exec(job)!;
    expect(job).toContain(`chosen: ${id}\n`);
  });

  it('puts a dot where a picture was, and nothing where none was', () => {
    const book = new Book(ROOT, {
      read: () => new TextEncoder().encode('the picture itself'),
      size: (uri) => (uri.endsWith('/p/here.png') ? 18 : undefined),
    });
    book.put(
      `${ROOT}jobs/J-1.job.yaml`,
      'kind: job\nid: J-1\nrecords:\n  - { record: a, proof: ../p/here.png }\n  - { record: a, proof: ../p/not.png }\n',
    );
    const { files } = redact(book, book.file(`${ROOT}jobs/J-1.job.yaml`)!, seeded(3));
    const [picture, ...others] = [...files].filter(([, made]) => typeof made !== 'string');
    expect(others).toEqual([]);
    expect(picture![0]).toMatch(/^file:\/\/\/book\/[a-z]\/[a-z]{4}\.png$/);
    expect([...(picture![1] as Uint8Array).slice(1, 4)]).toEqual([...'PNG'].map((one) => one.charCodeAt(0)));
    expect(files.get(`${ROOT}jobs/J-1.job.yaml`)).toContain(`../${picture![0].slice(ROOT.length)} }`);
  });

  it('hides amounts when asked, and leaves price files out', () => {
    const { book } = openSample();
    const { file } = book.definition('job', 'J-1042')!.facts;
    const made = redact(book, file, seeded(5), { hidePrices: true });
    const amounts = file.source.text().match(/\b\d+\.\d\d\b(?! (?:lb|in|gal))/g)!;
    expect(amounts.length).toBeGreaterThan(20);
    const shown = made.files.get(made.job) as string;
    for (const amount of amounts.filter((one) => one.length > 5)) expect(shown).not.toContain(amount);
    expect([...made.files.keys()].filter((uri) => uri.endsWith('.csv'))).toEqual([]);
  });
});

describe('a stand-in for a VIN', () => {
  // 49 CFR 565.15 by the rows VIN-01 to VIN-04, VIN-08 and VIN-10 of the published checks.
  it.each([
    '1G4AH59H45G118341',
    '1J9RP1A36A1644345',
    '1M8GDM9AXKP042788',
    '11111111111111111',
    '1HGCM82633A004353',
    'WP0ZZZ99ZTS392124',
    '1m8gdm9axkp042788',
  ])('%s: another vehicle, right or wrong as it was, of the same year', (vin) => {
    const right = (one: string) => explainCheckDigit(one.toUpperCase())!.digit === one[8]!.toUpperCase();
    for (let seed = 0; seed < 50; seed++) {
      const other = new StandIns(seeded(seed)).ofVin(vin);
      expect(other.slice(0, 8)).toBe(vin.slice(0, 8));
      for (let at = 10; at < 17; at++) expect(other[at], `${other} at ${at}`).not.toBe(vin[at]);
      expect(right(other)).toBe(right(vin));
      expect(modelYearOf(other)).toBe(modelYearOf(vin));
    }
  });

  it.each(['1G4AH59H45G11834', '1M8GDM9AIKP042788', 'none'])('%s: stays what is no VIN', (vin) => {
    const other = new StandIns(seeded(1)).ofVin(vin);
    expect(other).not.toBe(vin);
    expect(other).toHaveLength(vin.length);
    expect(explainCheckDigit(other)).toBeUndefined();
  });
});

it('free texts of a job that stay as they are are these, and no others', () => {
  const open: string[] = [];
  const walk = (schema: Parameters<typeof metaOf>[0], name: string, said: boolean | undefined): void => {
    const personal = metaOf(schema).personal ?? said;
    for (const one of alternativesOf(schema)) {
      if (isObject(one))
        for (const field of fieldsOf(one).values())
          walk(field.schema, field.key, field.meta.personal ?? personal);
      else if (isRecord(one)) walk(one.valueType as typeof schema, name, personal);
      else if (isList(one)) walk(one.element as typeof schema, name, personal);
      else if (/^(?:text|prose|vin)$/.test(metaOf(one).scalar ?? '') && personal === false) open.push(name);
    }
  };
  walk(jobKind.schema, '', undefined);
  expect([...new Set(open)].sort()).toEqual(['codes', 'engine', 'features', 'make', 'model', 'with']);
  expect(jobKind.personal).toBe(true);
});
