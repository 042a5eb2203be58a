/** What can be done about a problem, on the sample's coolant job before any work is on paper. */
import { beforeEach, describe, expect, it } from 'vitest';
import { isoDate } from '../../../schemas/values/dates.ts';
import { problemsOf } from '../../../server/src/estimate/problems.ts';
import { codeActions } from '../../../server/src/features/actions/index.ts';
import { addItems, addPair, removeAt, setAt } from '../../../server/src/features/edits.ts';
import { alarms, openSample } from '../sample/sample.ts';

const { book, estimates } = openSample();
const file = book.definition('job', 'J-1042')!.facts.file;
const original = file.source.text();
const TODAY = isoDate('2026-03-05');

type Edits = ReturnType<typeof removeAt>;
const apply = (edits: Edits) =>
  book.edit(
    file.uri,
    edits!.map(({ range, newText }) => ({ range, text: newText })),
  );

beforeEach(() => {
  book.put(file.uri, original);
  for (const key of ['records', 'completed', 'authorizations']) apply(removeAt(file, [key]));
});

function actionsFor(code: string) {
  const found = problemsOf(estimates, file).find(({ problem }) => problem.code === code)!;
  return codeActions(estimates, file, file.source.rangeOf(found.piece, found), TODAY);
}

function take(title: string | RegExp, code: string): void {
  const action = actionsFor(code).find((one) =>
    typeof title === 'string' ? one.title === title : title.test(one.title),
  );
  expect(action, String(title)).toBeDefined();
  apply(action!.edit!.changes![file.uri]);
}

const placeOfPart = (id: string) =>
  estimates.of(file)!.chosen!.lines.find(({ line }) => 'part' in line && line.part === id)!.path;

describe('code actions', () => {
  it('add the missing radiator to the option that lacks it, and the job is clean again', () => {
    apply(removeAt(file, placeOfPart('RAD-7120')));
    const mend = actionsFor('missing-work').find((one) => one.title.startsWith('Add Radiator'))!;
    expect([mend.title, mend.isPreferred]).toEqual([
      'Add Radiator with fluid cooler, Drover (RAD-7120)',
      true,
    ]);
    take(/^Add Radiator with fluid cooler, Drover/, 'missing-work');
    expect(alarms(estimates, file)).toEqual([]);
    expect(file.source.text()).toContain('# Try it: put a # before the line of the radiator');
  });

  it('record that it was declined, to be filled in by whom and why', () => {
    apply(removeAt(file, placeOfPart('RAD-7120')));
    take('Record that "Radiator" was declined', 'missing-work');
    expect(file.source.text()).toMatch(
      /waivers:\r?\n {2}- role: radiator\r?\n {4}reason:\r?\n {4}by:\r?\n {4}on: 2026-03-05/,
    );
  });

  it('add everything that is missing at once', () => {
    for (const id of ['TC-B6-R', 'FR-B6', 'FL-B6-2']) apply(removeAt(file, placeOfPart(id)));
    expect(alarms(estimates, file)).toHaveLength(3);
    take('Add all missing work (3)', 'missing-work');
    expect(alarms(estimates, file)).toEqual([]);
  });

  it('change a mistyped number to the near one', () => {
    apply(setAt(file, [...placeOfPart('RAD-7120'), 'part'], 'RAD-7121'));
    take('Change to "RAD-7120"', 'unknown-reference');
    expect(alarms(estimates, file)).toEqual([]);
  });

  it('drop the line that bills work a second time', () => {
    const before = file.source.text();
    apply(addItems(file, ['options', 'overhaul', 'lines'], [{ operation: 'flush-cooler' }]));
    take('Drop this line: Pulsed cooler flush is billed twice', 'operation-twice');
    expect(file.source.text()).toBe(before);
    expect(alarms(estimates, file)).toEqual([]);
  });

  it('drop the part that a kit on the job holds', () => {
    apply(addItems(file, ['options', 'overhaul', 'lines'], [{ part: 'PG-B6' }]));
    take(/^Drop this line: .* is inside the kit$/, 'part-inside-kit');
    expect(alarms(estimates, file)).toEqual([]);
  });

  it('drop what the fill counts already', () => {
    const fill = estimates.of(file)!.chosen!.lines.find(({ line }) => 'fill' in line)!;
    apply(addPair(file, fill.path, 'plus', ['converter']));
    take('Drop what the fill counts already', 'fill-counted-already');
    expect(file.source.text()).not.toMatch(/^ *plus:/m);
    expect(alarms(estimates, file)).toEqual([]);
  });

  it('begin the limit that a unit family lacks, in its own file', () => {
    const family = book.definition('unit', 'birch-6')!.facts.file;
    const before = family.source.text();
    book.edit(
      family.uri,
      removeAt(family, ['units', 'birch-6', 'limits', 'cooler-flow'])!.map(({ range, newText }) => ({
        range,
        text: newText,
      })),
    );
    const begin = actionsFor('no-limit').find((one) => one.title.startsWith('Begin a limit'))!;
    expect(begin.title).toBe('Begin a limit for Flow through the cooler in Birch-6');
    expect(Object.keys(begin.edit!.changes!)).toEqual([family.uri]);
    book.edit(
      family.uri,
      begin.edit!.changes![family.uri]!.map(({ range, newText }) => ({ range, text: newText })),
    );
    expect(family.source.text()).toMatch(
      / {6}cooler-flow:\n {8}rows:\n {10}- least:\n {12}most:\n {8}source:\n/,
    );
    book.put(family.uri, before);
  });

  it('begin the value that a template needs, with what fits the unit', () => {
    apply(addItems(file, ['options', 'overhaul', 'lines'], [{ template: 'coolant-overhaul' }]));
    const titles = actionsFor('template-parameter').map((one) => one.title);
    expect(titles).toContain('Write Radiator with fluid cooler, Drover (RAD-7120) as "radiator"');
    take(/\(RAD-7124\) as "radiator"$/, 'template-parameter');
    expect(file.source.text()).toMatch(
      / {6}- template: coolant-overhaul\n {8}with:\n {10}radiator: RAD-7124\n/,
    );
  });

  it('write a quantity in another unit', () => {
    const spot = file.spotOf(['vehicle', 'odometer'])!;
    const at = file.source.positionOf(spot.piece, spot.start);
    const titles = codeActions(estimates, file, { start: at, end: at }, TODAY).map((one) => one.title);
    expect(titles.some((title) => /^Write as \d[\d.]* km/.test(title))).toBe(true);
  });

  it('make a template of whole lines', () => {
    const [from, to] = [1, 2].map((i) => {
      const spot = file.spotOf(['lines', i])!;
      return file.source.positionOf(spot.piece, spot.start);
    });
    const range = { start: { line: from!.line, character: 0 }, end: { line: to!.line, character: 40 } };
    const action = codeActions(estimates, file, range, TODAY).find((one) =>
      one.title.startsWith('Make a template'),
    )!;
    expect(action.title).toBe('Make a template of these 2 lines');
    expect(JSON.stringify(action.edit)).toContain(
      '- operation: test-glycol\\n    for: coolant-in-fluid\\n  - operation: measure-tires',
    );
  });

  it('offer nothing where nothing is wrong', () => {
    const start = { line: 0, character: 0 };
    expect(codeActions(estimates, file, { start, end: start }, TODAY)).toEqual([]);
  });
});
