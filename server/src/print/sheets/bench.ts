/** The bench work order: what is done in which order, with what, held to which limits, and what can hurt. */
import { WORK, type Work } from '../../../../schemas/kinds/labor.ts';
import { ZERO } from '../../../../schemas/values/decimal.ts';
import type { OptionEstimate } from '../../estimate/estimate.ts';
import type { PricedLine } from '../../pricing/model.ts';
import { type Doc, facts, list, present, type Row, type Step, section, type Table, text } from '../doc.ts';
import { docOf, type Sheet } from './context.ts';
import { readingText, statedFindings } from './found.ts';
import { isGoods } from './lines.ts';
import { ownFactsOfLine, ownOfLine } from './own.ts';
import { fieldsOfRecord } from './records.ts';

export function benchDoc(sheet: Sheet, option: OptionEstimate): Doc {
  const { estimate, printer, source } = sheet;
  const { say } = printer;
  const doings = workingOrder(sheet, option);
  const said = new Set<string>();
  // A record is filled in once, at the last work that leaves it.
  const last = new Map(doings.map(({ record }, i) => [record, i]));
  const steps = doings.map((doing, i) =>
    stepOf(
      sheet,
      option,
      { ...doing, record: last.get(doing.record) === i ? doing.record : undefined },
      said,
    ),
  );
  const shown = new Set(doings.map(({ record }) => record));
  const wanted = option.work.requirements.flatMap((one) => (one.record === undefined ? [] : [one.record]));
  const rest = [...new Set(wanted)].filter((record) => !shown.has(record));
  const { capacities } = estimate.unit ?? {};
  const findings = statedFindings(option).map((fact) => `${fact.name}: ${readingText(sheet, fact)}`);
  const stray = option.work.cautions.filter(
    (caution) => !caution.from.some((from) => from.kind === 'operation'),
  );
  return docOf(
    sheet,
    'bench',
    present([
      section('unit', say('bench.unit'), [
        text(estimate.job.complaint, 'quote', say('you-said')),
        text(
          [
            option.id === undefined ? undefined : `${option.name}.`,
            estimate.unit &&
              `${estimate.unit.name}, ${say('bench.fluid', { name: estimate.unit['fluid-class'] })}.`,
            capacities?.dry && `${say('bench.dry', { amount: printer.quantity(capacities.dry) })}.`,
          ]
            .filter(Boolean)
            .join(' '),
        ),
      ]),
      section('found', say('bench.found'), [list(findings)]),
      section('cautions', say('bench.cautions'), [
        list(
          stray.map(
            ({ text: words, authority }) => `${words.trim()} ${say('follow-authority', { authority })}`,
          ),
        ),
      ]),
      section('order', say('bench.order'), [
        { block: 'steps', steps },
        text(say('bench.total', { hours: printer.number(option.priced.hoursSold.value) }), 'strong'),
      ]),
      section('records', say('bench.records'), [
        rest.length === 0
          ? undefined
          : {
              block: 'steps',
              steps: rest.map(
                (id): Step => ({
                  title: source.catalog.record(id)?.name ?? id,
                  aside: '',
                  facts: [],
                  fields: fieldsOfRecord(sheet, id),
                  cautions: cautionsOf(sheet, source.catalog.record(id)?.cautions, said),
                }),
              ),
            },
      ]),
      section('parts', say('bench.parts'), [pullTable(sheet, option)]),
      section('reuse', say('bench.reuse'), [
        list((estimate.job.reuse ?? []).map((role) => source.catalog.role(role)?.name ?? role)),
      ]),
    ]),
    facts([[say('unit-number'), estimate.job['unit-number']]]),
  );
}

interface Doing {
  readonly operation: string;
  readonly work: Work;
  readonly line: PricedLine;
  /** The operation on the job that covers it; its hours are there. */
  readonly within?: string | undefined;
  readonly record: string | undefined;
}

const SORTS = Object.keys(WORK) as Work[];

/** By sort of work and then by the job's order, what is covered by another in its own place; what rules put first, first. */
export function workingOrder({ source }: Sheet, option: OptionEstimate): Doing[] {
  const doings: Doing[] = [];
  const seen = new Set<string>();
  const visit = (operation: string, line: PricedLine, within: string | undefined): void => {
    const entry = source.catalog.operation(operation);
    if (!entry || seen.has(operation)) return;
    seen.add(operation);
    // What may be covered is not always done: told are other sorts of work, and what leaves a record.
    const covering = within === undefined ? undefined : source.catalog.operation(within);
    if (entry.work !== covering?.work || entry.record !== undefined)
      doings.push({ operation, work: entry.work, line, within, record: entry.record });
    for (const inner of entry.includes ?? []) visit(inner, line, operation);
  };
  // What has a line of its own stands there, whatever includes it.
  const labor = option.priced.lines.filter(
    (line) => line.id !== undefined && (line.kind === 'labor' || line.kind === 'sublet'),
  );
  for (const line of labor) {
    if (seen.has(line.id!)) continue;
    const entry = source.catalog.operation(line.id!);
    if (!entry) continue;
    seen.add(line.id!);
    doings.push({
      operation: line.id!,
      work: entry.work,
      line,
      within: line.includedIn,
      record: entry.record,
    });
  }
  for (const line of labor)
    for (const inner of source.catalog.operation(line.id!)?.includes ?? []) visit(inner, line, line.id);
  const sorted = doings.toSorted((a, b) => SORTS.indexOf(a.work) - SORTS.indexOf(b.work));
  for (const { kind, roles } of option.work.requirements) {
    if (kind !== 'order' || roles.length !== 2) continue;
    const place = (role: string | undefined) =>
      sorted.findIndex((one) => source.catalog.operation(one.operation)?.role === role);
    const [first, next] = [place(roles[0]), place(roles[1])];
    if (first > next && next >= 0) sorted.splice(next, 0, ...sorted.splice(first, 1));
  }
  return sorted;
}

function stepOf(
  sheet: Sheet,
  option: OptionEstimate,
  { operation, line, within, record }: Doing,
  said: Set<string>,
): Step {
  const { printer, source } = sheet;
  const { say, number } = printer;
  const entry = source.catalog.operation(operation)!;
  const access = within === undefined ? line.steps : [];
  const typed = line.line && 'operation' in line.line && within === undefined ? line.line : undefined;
  const adders = Object.entries(entry.adders ?? {}).filter(
    ([id, adder]) => typed?.adders?.includes(id) || labels(line).has(adder.name),
  );
  const needed = new Set((entry.parts ?? []).map((one) => one.role));
  const parts = option.priced.lines.filter(
    (one) => isGoods(one) && one.role !== undefined && needed.has(one.role),
  );
  const kind = record === undefined ? undefined : source.catalog.record(record);
  return {
    title: entry.name,
    aside:
      within === undefined
        ? line.hours.value.eq(ZERO)
          ? ''
          : say('bench.hours', { hours: number(line.hours.value) })
        : say('bench.in', { name: source.catalog.operation(within)?.name ?? within }),
    facts: facts([
      [
        say('bench.access'),
        access
          .map((id) => {
            const step = source.catalog.step(id);
            const own = step?.['hours-by']?.[sheet.estimate.job.unit] ?? step?.hours;
            return step ? say('bench.access.row', { name: step.name, hours: own ? number(own) : '' }) : id;
          })
          .join(', '),
      ],
      [
        say('bench.addons'),
        within === undefined
          ? [
              adders
                .map(([, adder]) => say('bench.access.row', { name: adder.name, hours: number(adder.hours) }))
                .join(', '),
              typed?.reason,
            ]
              .filter(Boolean)
              .join('; ')
          : undefined,
      ],
      [
        say('bench.pull'),
        parts
          .map((part) => `${printer.counted(part.quantity.value, part.unit)} ${part.name} (${part.id})`)
          .join(', '),
      ],
      [say('bench.record'), kind?.name],
      ...ownFactsOfLine(sheet, { kind: 'labor', id: operation }).map(
        ({ label, value }) => [label, value] as const,
      ),
    ]),
    fields: record === undefined ? [] : fieldsOfRecord(sheet, record),
    cautions: cautionsOf(sheet, [...(entry.cautions ?? []), ...(kind?.cautions ?? [])], said),
  };
}

/** What the hours of a line are made of, by name: the add-ons that applied by themselves are among them. */
function labels({ hours }: PricedLine): Set<string> {
  const found = new Set<string>();
  const visit = (amount: PricedLine['hours']): void => {
    found.add(amount.label);
    for (const part of amount.of) visit(part);
  };
  visit(hours);
  return found;
}

/** In full the first time; after that by name, so that what is new is not lost among what has been said. */
function cautionsOf(
  { source, printer }: Sheet,
  ids: readonly string[] | undefined,
  said: Set<string>,
): Step['cautions'] {
  const known = [...new Set(ids ?? [])].filter((id) => source.catalog.caution(id));
  const again = known.filter((id) => said.has(id)).map((id) => id.replaceAll('-', ' '));
  const fresh = known
    .filter((id) => !said.has(id))
    .map((id) => {
      said.add(id);
      const caution = source.catalog.caution(id)!;
      return { text: caution.text.trim(), authority: caution.authority };
    });
  if (again.length === 0) return fresh;
  return [...fresh, { text: printer.say('bench.again', { names: printer.list(again) }), authority: '' }];
}

function pullTable(sheet: Sheet, option: OptionEstimate): Table | undefined {
  const { printer } = sheet;
  const { say } = printer;
  const rows = option.priced.lines
    .filter((line) => isGoods(line) && line.kind !== 'core')
    .map(
      (line): Row => ({
        as: 'row',
        cells: [
          line.name,
          line.id ?? '',
          line.condition ? say(`condition.${line.condition}`) : '',
          printer.counted(line.quantity.value, line.unit),
        ],
        note:
          [...ownOfLine(sheet, line), line.suppliedByCustomer ? say('supplied') : undefined]
            .filter(Boolean)
            .join('; ') || undefined,
      }),
    );
  if (rows.length === 0) return undefined;
  return {
    block: 'table',
    caption: say('bench.parts'),
    columns: [
      { title: say('bench.name'), align: 'left' },
      { title: say('bench.number'), align: 'left', narrow: true },
      { title: say('bench.condition'), align: 'left', narrow: true },
      { title: say('bench.quantity'), align: 'right', narrow: true },
    ],
    rows,
  };
}
