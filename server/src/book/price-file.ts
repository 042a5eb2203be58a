/** Catalogs drawn from a supplier's price file: rows of a CSV as parts, by a column map. */
import { type PriceFile, part, partsSchema } from '../../../schemas/kinds/parts.ts';
import { didYouMean } from '../../../schemas/values/words.ts';
import { bare, fieldsOf, keyOf } from '../../../schemas/walk.ts';
import { nodeAt } from '../syntax/node.ts';
import { entriesOf } from '../syntax/piece.ts';
import { type Definition, idProblem, type PieceFacts } from './facts.ts';
import type { Host } from './host.ts';
import type { Located } from './judge.ts';
import { isInside, relative, resolve } from './paths.ts';
import { amountIn, decimalMarkOf, type Row, tableOf, textOf } from './price-table.ts';

/** Bytes; a supplier's whole list is a tenth of this. */
const LARGEST = 64_000_000;
/** Rows in trouble that are told one by one. */
const TOLD = 20;

interface Drawn {
  readonly uri: string | undefined;
  readonly rows: readonly PieceFacts[];
  readonly problems: readonly Located[];
}

const NOTHING: readonly never[] = [];

export class PriceFiles {
  readonly #host: Host;
  readonly #root: string;
  readonly #drawn = new Map<PieceFacts, Drawn>();

  constructor(host: Host, root: string) {
    this.#host = host;
    this.#root = root;
  }

  /** Pieces that stand for the rows a `from:` draws; none for any other piece. */
  read(facts: PieceFacts): readonly PieceFacts[] {
    const from = fromOf(facts);
    if (!from) return NOTHING;
    const drawn = this.#draw(facts, from);
    this.#drawn.set(facts, drawn);
    return drawn.rows;
  }

  rowsOf(facts: PieceFacts): readonly PieceFacts[] {
    return this.#drawn.get(facts)?.rows ?? NOTHING;
  }

  problemsOf(facts: PieceFacts): readonly Located[] {
    return this.#drawn.get(facts)?.problems ?? NOTHING;
  }

  forget(facts: PieceFacts): void {
    this.#drawn.delete(facts);
  }

  readersOf(uri: string): PieceFacts[] {
    return [...this.#drawn].filter(([, drawn]) => drawn.uri === uri).map(([facts]) => facts);
  }

  #draw(facts: PieceFacts, from: PriceFile): Drawn {
    const uri = resolve(facts.file.uri, from.file);
    const fail = (message: string): Drawn => ({
      uri,
      rows: NOTHING,
      problems: [priceFileProblem(facts, 'price-file', 'file', message)],
    });
    if (uri === undefined || !isInside(this.#root, uri)) {
      return fail(
        `"${from.file}" lies outside the shop book. Copy the price file into the book and name it from here.`,
      );
    }
    const size = this.#host.size(uri, this.#root);
    if (size === undefined)
      return fail(`There is no price file "${from.file}". Looked at ${relative(this.#root, uri)}.`);
    if (size > LARGEST) return fail(`The price file "${from.file}" is larger than 64 MB; split it.`);
    const bytes = this.#host.read(uri, this.#root);
    if (!bytes) return fail(`The price file "${from.file}" cannot be read. Check its permissions.`);
    const read = textOf(bytes, from.encoding);
    if (!read) {
      return fail(
        `The price file "${from.file}" is not UTF-8 text. Save it as UTF-8, or write: encoding: windows-1252`,
      );
    }
    return { uri, ...rowsIn(facts, from, read.text) };
  }
}

/** A problem of a price file, told at the field of `from:` that it comes from. */
export function priceFileProblem(facts: PieceFacts, code: string, field: string, message: string): Located {
  const entry = entriesOf(facts.piece, facts.file.splitKeys).find(isFrom);
  const { start, end } = entry ? nodeAt(entry.value, [field]) : { start: 0, end: 0 };
  return { code, severity: 'error', message, path: ['from', field], start, end };
}

function isFrom(entry: { section: string | undefined; key: { text: string } }): boolean {
  return entry.section === undefined && entry.key.text === 'from';
}

function fromOf(facts: PieceFacts): PriceFile | undefined {
  if (facts.file.kind?.kind !== 'parts') return undefined;
  const found = facts.parts.find((one) => one.section === undefined && one.key === 'from');
  return found?.value as PriceFile | undefined;
}

function rowsIn(facts: PieceFacts, from: PriceFile, text: string): Omit<Drawn, 'uri'> {
  const problems: Located[] = [];
  const tell = (field: string, message: string): void => {
    problems.push(priceFileProblem(facts, 'price-file', field, message));
  };
  const nothing = { rows: NOTHING, problems };
  const table = tableOf(text, (record) => columnOf(record, from.columns.number) >= 0, from.delimiter);
  if (typeof table === 'string') {
    tell('file', table);
    return nothing;
  }
  const { head, rows: body } = table;
  const column = new Map<string, number>();
  for (const [name, heading] of Object.entries(from.columns)) {
    if (heading === undefined) continue;
    const index = columnOf(head.record, heading);
    if (index >= 0) column.set(name, index);
    else tell('columns', missingColumn(heading, head.record));
  }
  const numberColumn = column.get('number');
  if (numberColumn === undefined) return nothing;

  const mark = markFor(from, column, body);
  const definitions: Definition[] = [];
  const rows = { ...facts, parts: NOTHING, problems: NOTHING, definitions, uses: NOTHING };
  const seen = new Map<string, number>();
  let bad = 0;
  for (const row of body) {
    const { record, line } = row;
    const id = record[numberColumn]!;
    const first = seen.get(id);
    const read =
      first === undefined ? readRow(row, column, from, mark, id) : `The number is on line ${first} already.`;
    if (typeof read !== 'string') {
      seen.set(id, line);
      definitions.push({
        kind: 'part',
        id,
        facts: rows,
        value: read.part,
        row: line,
        local: false,
        shared: false,
      });
    } else if (bad++ < TOLD) tell('file', `Line ${line} of the price file${id && ` (${id})`}: ${read}`);
  }
  if (bad > TOLD) tell('file', `${bad - TOLD} more lines of the price file are not right.`);
  return { rows: [rows], problems };
}

/** Place of the column under a heading, letter case aside; -1 when there is none. */
export function columnOf(headings: readonly string[], heading: string): number {
  const wanted = heading.trim().toLowerCase();
  return headings.findIndex((one) => one.toLowerCase() === wanted);
}

const AMOUNTS = ['cost', 'list', 'core'] as const;

function markFor(from: PriceFile, column: ReadonlyMap<string, number>, rows: readonly Row[]): '.' | ',' {
  if (from.decimal) return from.decimal === 'comma' ? ',' : '.';
  const at = AMOUNTS.flatMap((name) => column.get(name) ?? []);
  return decimalMarkOf(rows.flatMap(({ record }) => at.map((index) => record[index]!)));
}

export function missingColumn(heading: string, headings: readonly string[]): string {
  const near = didYouMean(heading, headings, 1)[0];
  const advice = near ? `Did you mean "${near}"?` : `It has: ${headings.slice(0, 20).join(', ')}.`;
  return `The price file has no column "${heading}". ${advice}`;
}

const PART_KEY = keyOf(bare(fieldsOf(partsSchema).get('parts')!.schema))!;

export const OVERFLOWS =
  'It has more cells than there are headings. A value that holds the separator has to stand in quotes.';

function readRow(
  { record, overflows }: Row,
  column: ReadonlyMap<string, number>,
  from: PriceFile,
  mark: '.' | ',',
  id: string,
): { part: unknown } | string {
  const wrong = id === '' ? 'There is no part number.' : idProblem(PART_KEY, id);
  if (wrong) return wrong;
  if (overflows) return OVERFLOWS;
  const judged = part.safeParse(rowValue(record, column, from, mark, id));
  if (judged.success) return { part: judged.data };
  const issue = judged.error.issues[0];
  return `${String(issue?.path[0] ?? '')}: ${issue?.message ?? ''}`;
}

function rowValue(
  record: readonly string[],
  column: ReadonlyMap<string, number>,
  from: PriceFile,
  mark: '.' | ',',
  id: string,
) {
  const cell = (name: string) => record[column.get(name) ?? -1] || undefined;
  const value: Record<string, unknown> = { name: cell('name') ?? id, kind: from.kind };
  for (const name of AMOUNTS) {
    const amount = cell(name);
    if (amount) value[name] = amountIn(amount, mark);
  }
  const unit = cell('unit');
  if (unit) value.unit = unit.toLowerCase();
  if (from.condition) value.condition = from.condition;
  if (from.role) value.role = from.role;
  return value;
}
