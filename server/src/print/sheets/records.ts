/** The fields of a record, what each has to hold, and what is filled in already. */
import { metaOf } from '../../../../schemas/declare.ts';
import { type JobRecord, jobRecord } from '../../../../schemas/kinds/job.ts';
import { parseDate } from '../../../../schemas/values/dates.ts';
import { dec, round } from '../../../../schemas/values/decimal.ts';
import type { Quantity } from '../../../../schemas/values/quantity.ts';
import { formatRange } from '../../../../schemas/values/range.ts';
import { type LimitTable, readLimit, unitFact } from '../../work/limits.ts';
import type { Step } from '../doc.ts';
import type { Sheet } from './context.ts';

/** `key`: its name in the record, or the finding that is measured. */
export type RecordField = Step['fields'][number] & { readonly key: string };

/** Not lines to fill in on the bench: who and when stand on every record, a picture is kept elsewhere. */
const ELSEWHERE: ReadonlySet<string> = new Set(['proof']);

export function fieldsOfRecord(sheet: Sheet, id: string): RecordField[] {
  const { source, estimate } = sheet;
  const kind = source.catalog.record(id);
  if (!kind) return [];
  const filled = estimate.job.records?.findLast((one) => one.record === id);
  const bounds = new Set([...Object.keys(kind.least ?? {}), ...Object.keys(kind.most ?? {})]);
  const typed = [...new Set([...(kind.needs ?? []), ...bounds])].filter(
    (name) => isField(name) && !ELSEWHERE.has(name),
  );
  const measured = (kind.measures ?? []).map((finding): RecordField => {
    const entry = source.catalog.finding(finding);
    return {
      key: finding,
      label: entry?.name ?? finding,
      limit: limitsFor(sheet, finding),
      filled: filled?.measurements?.[finding] ?? (filled && elsewhere(sheet, id, filled, entry?.dimension)),
    };
  });
  const figures = [...bounds]
    .filter((name) => !isField(name))
    .map(
      (name): RecordField => ({
        key: name,
        label: capital(name.replaceAll('-', ' ')),
        limit: boundText(sheet, kind.least?.[name], kind.most?.[name]),
        filled: figureOf(sheet, id, name),
      }),
    );
  return [
    ...typed.map(
      (name): RecordField => ({
        key: name,
        label: metaOf(jobRecord.shape[name as keyof JobRecord]).title ?? name,
        limit: boundText(sheet, kind.least?.[name], kind.most?.[name]),
        filled: filled && shown(sheet, filled[name as keyof JobRecord]),
      }),
    ),
    ...figures,
    ...measured,
  ];
}

function isField(name: string): boolean {
  return Object.hasOwn(jobRecord.shape, name);
}

function boundText({ printer }: Sheet, least: string | undefined, most: string | undefined): string {
  if (least !== undefined && most !== undefined) return printer.say('between', { least, most });
  if (least !== undefined) return printer.say('at-least', { least });
  return most === undefined ? '' : printer.say('at-most', { most });
}

/** A rate of flow counted from volume and time, and a temperature, are readings too. */
function elsewhere(
  sheet: Sheet,
  id: string,
  filled: JobRecord,
  dimension: string | undefined,
): string | undefined {
  if (dimension === 'flow') return figureOf(sheet, id, 'rate');
  return dimension === 'temperature' ? shown(sheet, filled['fluid-temperature']) : undefined;
}

/** What came of the figures that a record is counted by: `turnovers 12.19`. */
function figureOf({ estimate, printer }: Sheet, record: string, name: string): string | undefined {
  const option = estimate.chosen ?? estimate.options[0];
  const report = option?.work.records.findLast((one) => one.record === record);
  const figure = report?.figures.find((one) => one.name === name);
  return figure && printer.quantity(short(figure.quantity));
}

/** To two decimals: a figure on paper is compared, not counted on with. */
function short({ amount, unit }: Quantity): Quantity {
  return { amount: dec(round(amount, 2).toString()), unit };
}

function shown({ printer }: Sheet, value: JobRecord[keyof JobRecord]): string | undefined {
  if (value === undefined) return undefined;
  if (typeof value === 'string') {
    const date = parseDate(value);
    return date.ok ? printer.date(date.value) : value;
  }
  if (typeof value === 'number') return String(value);
  if (Array.isArray(value)) return value.join(', ');
  return 'unit' in value && typeof value.unit === 'object' ? printer.quantity(value as Quantity) : undefined;
}

/** The limits of this unit for a measurement, row by row where they hang on a condition. */
export function limitsFor({ source, estimate, printer }: Sheet, finding: string): string {
  const { unit } = estimate;
  const entry = source.catalog.finding(finding);
  const limit = unit?.limits?.[finding];
  if (!unit || !entry || !limit) return '';
  const table = readLimit(limit, entry, (id) => source.catalog.finding(id));
  return rowsOf(table, (key) => unitFact(unit, key))
    .map(({ conditions, least, most }) => {
      const bound =
        least && most
          ? printer.say('between', { least: printer.quantity(least), most: printer.quantity(most) })
          : least
            ? printer.say('at-least', { least: printer.quantity(least) })
            : most
              ? printer.say('at-most', { most: printer.quantity(most) })
              : '';
      const when = conditions.flatMap((one) => ('range' in one ? [formatRange(one.range)] : [])).join(', ');
      return when === '' ? bound : printer.say('bench.when', { when, bound });
    })
    .join('; ');
}

/** The rows that can hold for a unit: those that ask for another cooler or another layout cannot. */
function rowsOf(table: LimitTable, factOf: (key: string) => string | undefined): LimitTable['rows'] {
  return table.rows.filter((row) =>
    row.conditions.every((one) => {
      if (!('word' in one)) return true;
      const fact = factOf(one.key);
      return fact === undefined || fact.toLowerCase() === one.word;
    }),
  );
}

function capital(words: string): string {
  return words.charAt(0).toLocaleUpperCase() + words.slice(1);
}
