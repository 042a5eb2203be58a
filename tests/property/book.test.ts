import fc from 'fast-check';
import { expect, test } from 'vitest';
import { Book } from '../../server/src/book/book.ts';
import { NO_HOST } from '../../server/src/book/host.ts';
import { ROOT, stateOf } from '../unit/book/told.ts';

// Few ids, so that they meet: named and not defined, defined twice, nearly right.
const id = fc.constantFrom('P-1', 'P-2', 'P-3', 'P-10', 'Q', 'toString', '__proto__');
const role = fc.constantFrom('pump', 'filter', 'filtre', 'cooler');
const lines = (...parts: string[]) => parts.join('\n');

const part = fc
  .tuple(id, role, fc.option(id), fc.constantFrom('4.10', 'four', ''), fc.option(id))
  .map(([key, fills, next, cost, alternate]) =>
    lines(
      `  ${key}:`,
      '    name: A part',
      '    kind: soft',
      `    role: ${fills}`,
      `    cost: ${cost}`,
      ...(next ? [`    superseded-by: { part: ${next} }`] : []),
      ...(alternate ? [`    alternates: [${alternate}]`] : []),
    ),
  );
const partsFile = fc
  .array(part, { maxLength: 5 })
  .map((entries) => lines('kind: parts', 'parts:', ...entries, ''));

const rulesFile = fc
  .array(fc.tuple(role, fc.constantFrom('part', 'work', 'prat')), { maxLength: 3 })
  .map((roles) =>
    lines('kind: rules', 'roles:', ...roles.map(([key, of]) => `  ${key}: { name: R, of: ${of} }`), ''),
  );

const word = fc.constantFrom('one', 'two', 'tow', 'three');
const laborFile = fc
  .array(fc.tuple(fc.constantFrom('open', 'close'), fc.array(word, { maxLength: 2 }), role), { maxLength: 3 })
  .map((operations) =>
    lines(
      'kind: labor',
      'operations:',
      ...operations.flatMap(([key, adders, fills]) => [
        `  ${key}:`,
        '    name: Work',
        '    work: bench',
        `    role: ${fills}`,
        '    adders:',
        ...[...new Set(adders)].map((adder) => `      ${adder}: { name: More, hours: 1 }`),
      ]),
      '',
    ),
  );

const templateFile = fc
  .tuple(fc.constantFrom('T', 'U'), fc.array(word, { maxLength: 2 }), word)
  .map(([key, parameters, used]) =>
    lines(
      'kind: template',
      `id: ${key}`,
      'name: Some lines',
      'parameters:',
      ...[...new Set(parameters)].map((name) => `  ${name}: { type: part }`),
      'lines:',
      `  - part: $${used}`,
      `  - prat: P-1`,
      '',
    ),
  );

const jobFile = fc
  .tuple(
    fc.constantFrom('J-1', 'J-2'),
    fc.array(word, { maxLength: 2 }),
    word,
    id,
    word,
    fc.constantFrom('T', 'U', 'V'),
    word,
  )
  .map(([key, options, chosen, number, adder, template, parameter]) =>
    lines(
      'kind: job',
      `id: ${key}`,
      'opened: 2026-01-02',
      'unit: birch-6',
      'lines:',
      `  - part: ${number}`,
      `  - { operation: open, adders: [${adder}] }`,
      `  - { template: ${template}, with: { ${parameter}: P-1 } }`,
      'options:',
      ...[...new Set(options)].map((option) => `  ${option}: { name: O, kind: repair }`),
      `chosen: ${chosen}`,
      '',
    ),
  );

const shopFile = fc
  .tuple(fc.constantFrom('shop.yaml', 'north/shop.yaml', 'south/shop.yaml', 'a.parts.yaml'), word)
  .map(([under, rate]) =>
    lines('kind: shop', `extends: ../${under}`, 'rates:', `  ${rate}: { name: R, hourly: 100.00 }`, ''),
  );

const text = fc.oneof(partsFile, partsFile, rulesFile, laborFile, templateFile, jobFile, shopFile);
const name = fc.constantFrom(
  'a.parts.yaml',
  'b.parts.yaml',
  'roles.rules.yaml',
  'open.labor.yaml',
  't.template.yaml',
  'jobs/1.job.yaml',
  'jobs/2.job.yaml',
  'north/shop.yaml',
  'south/shop.yaml',
);
const snippet = fc.oneof(
  {
    weight: 3,
    arbitrary: fc.constantFrom('', 'x', ' ', '\n', 'P-1', 'pump', 'kind: ', '$one', '- ', ':', '"'),
  },
  { weight: 1, arbitrary: part.map((entry) => `\n${entry}\n`) },
);
const at = fc.tuple(fc.nat(30), fc.nat(30)).map(([line, character]) => ({ line, character }));
const step = fc.oneof(
  { weight: 3, arbitrary: fc.record({ do: fc.constant('put' as const), name, text }) },
  {
    weight: 6,
    arbitrary: fc.record({ do: fc.constant('edit' as const), name, start: at, end: at, text: snippet }),
  },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('remove' as const), name }) },
);

test('a book after any changes answers as a fresh one with the same texts', () => {
  fc.assert(
    fc.property(fc.array(step, { minLength: 1, maxLength: 25 }), (steps) => {
      const book = new Book(ROOT, NO_HOST);
      const before = new Map<string, string>();
      for (const one of steps) {
        const uri = ROOT + one.name;
        const touched =
          one.do === 'put'
            ? book.put(uri, one.text)
            : one.do === 'remove'
              ? book.remove(uri)
              : book.edit(uri, [{ range: { start: one.start, end: one.end }, text: one.text }]);
        const fresh = new Book(ROOT, NO_HOST);
        for (const file of book.files()) fresh.put(file.uri, file.source.text());
        const state = stateOf(book);
        expect(state).toEqual(stateOf(fresh));

        // Files that are not said to be touched tell what they told before.
        const after = new Map(state.map((file) => [file.uri, JSON.stringify(file.problems)]));
        const said = new Set([...(touched?.files ?? [])].map((file) => file.uri));
        for (const [file, problems] of after) if (!said.has(file)) expect(problems).toBe(before.get(file));
        before.clear();
        for (const [file, problems] of after) before.set(file, problems);
      }
    }),
    { numRuns: 200 },
  );
});
