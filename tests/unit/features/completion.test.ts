// biome-ignore-all lint/suspicious/noTemplateCurlyInString: tab stops of snippets look so
import { describe, expect, it } from 'vitest';
import { BOOK } from './completion-book.ts';
import { completed } from './completion-shown.ts';

const HEAD = `kind: job
id: J-1
opened: 2026-03-01
unit: birch-6
`;

/** The job with the cursor, after its head. */
function inJob(rest: string, client = {}, eol?: string) {
  return completed(`${BOOK.trimEnd()}\n  === j.job.yaml\n${set(HEAD + rest)}`, client, eol);
}

function inFile(name: string, text: string) {
  return completed(`${BOOK.trimEnd()}\n  === ${name}\n${set(text)}`);
}

function set(text: string): string {
  return text.replace(/^(?=.)/gm, '  ');
}

describe('names', () => {
  it('offers the fields that are not given yet, those that are needed first', () => {
    const { items } = completed(`${BOOK.trimEnd()}
  === j.job.yaml
  kind: job
  lines: []
  <|>
  unit: birch-6
`);
    expect(items.slice(0, 5)).toEqual([
      'id : Id, needed',
      'opened : Opened, needed',
      'demo : Demonstration data',
      'priced-on : Priced on',
      'presented : Presented',
    ]);
    expect(items.join('\n')).not.toMatch(/^(kind|lines|unit) :/m);
  });

  it('tells what a field means, from its declaration', () => {
    expect(inJob('<|>').item('priced-on').documentation).toEqual({
      kind: 'markdown',
      value: [
        '**Priced on** `priced-on`',
        'Prices in force on this day count.',
        '- Left out: the day it was opened',
      ].join('\n\n'),
    });
  });

  it('keeps the order for the client, and its own words for the client to filter by', () => {
    const { list } = inJob('lines:\n  - part: TC-B\n    <|>\n');
    expect(list.isIncomplete).toBe(false);
    const [first, second] = list.items;
    expect([first?.label, first?.filterText]).toEqual(['quantity', 'quantity']);
    expect(first!.sortText! < second!.sortText!).toBe(true);
  });

  it.each([
    ['a single value', 'comp<|>', 'complaint', 'complaint: $1'],
    ['a date, which is often today', 'pres<|>', 'presented', 'presented: ${1:2026-03-04}'],
    ['a list of ids', '<|>', 'reuse', 'reuse: [$1]'],
    ['a list of maps', '<|>', 'waivers', 'waivers:\n  - reason: $1\n    by: $2\n    on: ${3:2026-03-04}'],
    ['a list of sorts of line', '<|>', 'lines', 'lines:\n  - $1'],
    ['a map by id', '<|>', 'findings', 'findings:\n  $1'],
    ['a map with a field that is needed', '<|>', 'cause', 'cause:\n  what: $1'],
    ['a map whose fields may all be left out', '<|>', 'vehicle', 'vehicle:\n  $1'],
    ['nothing behind a colon that is there', 'comp<|>:', 'complaint', 'complaint:'],
    ['a colon before text that is there', 'comp<|> it slips', 'complaint', 'complaint: it slips'],
  ])('opens %s', (_, typed, label, expected) => {
    expect(inJob(`${typed}\n`).accept(label)).toBe(`${HEAD}${expected}\n`);
  });

  it.each([
    [
      'words of a choice',
      'lines:\n  - part: TC-B\n    <|>',
      'core',
      'core: ${1|charged,exchanged,when-late,held|}',
    ],
    ['yes or no', 'lines:\n  - part: TC-B\n    <|>', 'supplied', 'supplied: ${1|yes,no|}'],
    ['a level further in', 'lines:\n  - operation: rr-unit\n    <|>', 'adders', 'adders: [$1]'],
  ])('fills in %s', (_, typed, label, expected) => {
    expect(inJob(`${typed}\n`).accept(label)).toBe(`${HEAD}${typed.replace('<|>', expected)}\n`);
  });

  it('writes brackets inside brackets', () => {
    const { accept } = inJob('findings: { slip: { value: 90 rpm, <|> } }\n');
    expect(accept('at')).toBe(`${HEAD}findings: { slip: { value: 90 rpm, at: { $1 } } }\n`);
    expect(accept('pictures')).toBe(`${HEAD}findings: { slip: { value: 90 rpm, pictures: [$1] } }\n`);
  });

  it('writes plain text for a client without tab stops', () => {
    const { accept, item } = inJob('<|>\n', { snippets: false });
    expect(accept('cause')).toBe(`${HEAD}cause:\n  what: \n`);
    expect(accept('complaint')).toBe(`${HEAD}complaint: \n`);
    expect(item('complaint').insertTextFormat).toBe(1);
  });

  it('sets lines in only as far as the client does not do it itself', () => {
    const source = 'options:\n  a:\n    name: A\n    kind: overhaul\n    lines:\n      - <|>\n';
    const asIs = inJob(source).item('other').textEdit as { newText: string };
    const adjusted = inJob(source, { linesAsTheyAre: false }).item('other');
    expect(asIs.newText.split('\n')[1]).toBe('        category: ${2|parts,labor,fees|}');
    expect((adjusted.textEdit as { newText: string }).newText.split('\n')[1]).toBe(
      '  category: ${2|parts,labor,fees|}',
    );
    expect(adjusted.insertTextMode).toBe(2);
  });

  it('ends lines as the file does', () => {
    expect(inJob('lines:\n  - <|>\n', {}, '\r\n').accept('other')).toContain('- other: $1\r\n    category:');
  });

  it('counts columns behind an emoji as editors do', () => {
    const { accept } = inJob('vehicle: { make: "🚗", mod<|> }\n');
    expect(accept('model')).toBe(`${HEAD}vehicle: { make: "🚗", model: $1 }\n`);
  });

  it('opens the list again after a name, when the client has a command for that', () => {
    expect(inJob('<|>\n', { again: 'show.list' }).item('unit-number').command?.command).toBe('show.list');
    expect(inJob('<|>\n').item('unit-number').command).toBeUndefined();
  });
});

describe('lines of a job', () => {
  const SORTS = ['fill', 'part', 'operation', 'sublet', 'fee', 'other', 'template'];

  it.each([
    ['behind a dash', 'lines:\n  - <|>\n'],
    ['behind a bare dash', 'lines:\n  -<|>\n'],
    ['where a dash would go', 'lines:\n  <|>\n'],
    ['below another line', 'lines:\n  - part: TC-B\n  <|>\n'],
    ['between two lines', 'lines:\n  - part: TC-B\n\n  - <|>\n\n  - part: TC-C\n'],
    ['below a comment', 'lines:\n  # the converter\n  - <|>\n'],
  ])('are offered by their first name %s', (_, text) => {
    expect(inJob(text).labels).toEqual(SORTS);
  });

  it('get their dash where it is missing', () => {
    expect(inJob('lines:\n  <|>\n').accept('part')).toBe(`${HEAD}lines:\n  - part: $1\n`);
    expect(inJob('lines:\n  par<|>\n').accept('part')).toBe(`${HEAD}lines:\n  - part: $1\n`);
    expect(inJob('lines:\n  -<|>\n').accept('part')).toBe(`${HEAD}lines:\n  - part: $1\n`);
  });

  it('bring along what they cannot do without', () => {
    expect(inJob('lines:\n  - <|>\n').accept('fill')).toBe(
      `${HEAD}lines:\n  - fill: \${1|dry,service,converter,cooler-and-lines|}\n    part: $2\n`,
    );
  });

  it('are known by the names that stand below the cursor', () => {
    const { labels } = inJob('lines:\n  - <|>\n    sublet: Radiator\n    labor-cost: 40.00\n');
    expect(labels).toContain('parts-cost');
    expect(labels).not.toContain('labor-cost');
    expect(labels).not.toContain('adders');
  });

  it('may still turn into another sort', () => {
    expect(inJob('lines:\n  - part: FL-1\n    <|>\n').labels.at(-1)).toBe('fill');
    expect(inJob('lines:\n  - operation: flush\n    <|>\n').labels).not.toContain('fill');
  });
});

describe('entries of catalogs', () => {
  it('offers a new entry with what it needs', () => {
    const { accept, item } = inFile('q.parts.yaml', 'kind: parts\nparts:\n  <|>\n');
    expect(item('new-part').labelDetails?.description).toBe('new part');
    expect(accept('new-part')).toBe(
      'kind: parts\nparts:\n  ${1:new-part}:\n    name: $2\n    kind: ${3|soft,hard,kit,fluid,filter,electrical,cooling,converter,unit,hardware,consumable|}\n',
    );
  });

  it('takes the id that is being typed', () => {
    const { accept, list } = inFile(
      'q.labor.yaml',
      'kind: labor\noperations:\n  a-b:\n    name: A\n    work: bench\n  fit<|>\n',
    );
    expect(list.isIncomplete).toBe(true);
    expect(list.items.find((one) => one.label === 'fit')?.filterText).toBe('fit');
    expect(accept('fit')).toContain('  fit:\n    name: $1\n    work: ${2|');
  });

  it('does so in maps of the shop file too', () => {
    expect(inFile('b/shop.yaml', 'kind: shop\nrates:\n  <|>\n').accept('new-labor-rate')).toBe(
      'kind: shop\nrates:\n  ${1:new-labor-rate}:\n    name: $2\n    hourly: $3\n',
    );
  });
});

describe('empty files', () => {
  it('are filled by their name', () => {
    expect(inFile('new.job.yaml', '<|>\n').accept('job file')).toBe(
      'kind: job\nid: $1\nopened: ${2:2026-03-04}\nunit: $3\n',
    );
    expect(inFile('new.units.yaml', '# ours\n<|>\n').accept('units file')).toBe(
      '# ours\nkind: units\nunits:\n  $1\n',
    );
  });

  it('are of any kind when their name says nothing', () => {
    expect(inFile('new.yaml', '<|>\n').labels).toEqual([
      'shop file',
      'jurisdiction file',
      'parts file',
      'labor file',
      'units file',
      'rules file',
      'template file',
      'job file',
      'cases file',
    ]);
    expect(inFile('new.yaml', 'kind: pa<|>\n').accept('parts')).toBe('kind: parts\n');
    expect(inFile('new.yaml', 'name: x\n<|>\n').labels).toEqual(['kind']);
  });
});

describe('nothing is offered', () => {
  it.each([
    ['in a comment', 'lines: # <|>\n'],
    ['in a comment on a line of its own', '# <|>\n'],
    ['in a text of several lines', 'complaint: |\n  part: <|>\n'],
    ['on an empty line in such a text', 'complaint: |\n  one\n  <|>\n  two\n'],
    ['in the indentation of a line', 'lines:\n <|> - part: TC-B\n'],
    ['deeper than a value that is there', 'lines:\n  - part: TC-B\n       <|>\n'],
    ['under a field that nobody knows', 'colour:\n  <|>\n'],
    ['for free text', 'lines:\n  - other: Tow\n    reason: <|>\n'],
    ['behind a repeat', 'lines:\n  - part: *a<|>\n'],
    ['between two items', 'reuse: [torque-converter, <|> fluid]\n'],
  ])('%s', (_, text) => {
    expect(inJob(text).labels).toEqual([]);
  });
});

describe('half-written surroundings', () => {
  it.each([
    ['a bracket left open above', 'reuse: [fluid\nlines:\n  - part: TC-B\n    <|>\n'],
    ['a quote left open above', 'complaint: "it slips\nlines:\n  - part: TC-B\n    <|>\n'],
    ['a name without its colon above', 'lines:\n  - part: TC-B\n    quantity\n    <|>\n'],
    ['a bracket left open on the line above', 'lines:\n  - part: TC-B\n    discount: [\n    <|>\n'],
    ['names set in unevenly', 'lines:\n  - part: TC-B\n     discount: 5%\n    <|>\n'],
    ['a stray dash below', 'lines:\n  - part: TC-B\n    <|>\n   -\n  - fee\n'],
    ['a broken entry below', 'lines:\n  - part: TC-B\n    <|>\nchosen: "\nlines: ]\n'],
    ['tabs', 'lines:\n\t- part: TC-B\n\t  <|>\n'],
  ])('do not matter: %s', (_, text) => {
    const { labels } = inJob(text);
    expect(labels).toContain('core');
    expect(labels).toContain('condition');
    expect(labels).not.toContain('part');
  });
});
