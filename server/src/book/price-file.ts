/** Catalogs drawn from a supplier's price file: rows of a CSV as parts, by a column map. */
import { parse } from 'csv-parse/sync';
import { type PriceFile, part } from '../../../schemas/kinds/parts.ts';
import { didYouMean } from '../../../schemas/values/words.ts';
import type { Definition, PieceFacts } from './facts.ts';
import type { Host } from './host.ts';
import type { Located } from './judge.ts';
import { isInside, relative, resolve } from './paths.ts';

/** Bytes; a supplier's whole list is a tenth of this. */
const LARGEST = 200_000_000;
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
      problems: [problem(facts, 'file', message)],
    });
    if (uri === undefined || !isInside(this.#root, uri)) {
      return fail(
        `"${from.file}" lies outside the shop book. Copy the price file into the book and name it from here.`,
      );
    }
    const size = this.#host.size(uri);
    if (size === undefined)
      return fail(`The price file "${from.file}" is not there. Looked at ${relative(this.#root, uri)}.`);
    if (size > LARGEST) return fail(`The price file "${from.file}" is larger than 200 MB; split it.`);
    const bytes = this.#host.read(uri);
    if (!bytes) return fail(`The price file "${from.file}" cannot be read. Check its permissions.`);
    return { uri, ...rowsIn(facts, from, bytes) };
  }
}

function rowsIn(facts: PieceFacts, from: PriceFile, bytes: Uint8Array): Omit<Drawn, 'uri'> {
  let records: { record: string[]; info: { lines: number } }[];
  try {
    records = parse(new TextDecoder(from.encoding ?? 'utf-8').decode(bytes), {
      bom: true,
      info: true,
      relax_column_count: true,
      skip_empty_lines: true,
      trim: true,
      ...(from.delimiter ? { delimiter: from.delimiter } : { delimiter: [',', ';', '\t', '|'] }),
    }) as unknown as typeof records;
  } catch (error) {
    return {
      rows: NOTHING,
      problems: [problem(facts, 'file', `The price file is not a readable CSV: ${(error as Error).message}`)],
    };
  }
  const [head, ...body] = records;
  const headings = head?.record ?? [];
  const problems: Located[] = [];
  const column = new Map<string, number>();
  for (const [name, heading] of Object.entries(from.columns)) {
    if (heading === undefined) continue;
    const index = headings.findIndex((one) => one.toLowerCase() === heading.toLowerCase());
    if (index >= 0) column.set(name, index);
    else {
      const near = didYouMean(heading, headings, 1)[0];
      problems.push(
        problem(
          facts,
          'columns',
          `The price file has no column "${heading}".${near ? ` Did you mean "${near}"?` : ` It has: ${headings.join(', ')}.`}`,
        ),
      );
    }
  }
  const numberColumn = column.get('number');
  if (numberColumn === undefined) return { rows: NOTHING, problems };

  const definitions: Definition[] = [];
  const rows: PieceFacts = {
    file: facts.file,
    piece: facts.piece,
    parts: [],
    problems: [],
    definitions,
    uses: [],
  };
  let bad = 0;
  for (const { record, info } of body) {
    const id = record[numberColumn] ?? '';
    if (id === '') continue;
    const judged = part.safeParse(rowValue(record, column, from, id));
    if (judged.success) {
      definitions.push({
        kind: 'part',
        id,
        facts: rows,
        value: judged.data,
        row: info.lines,
        local: false,
        shared: false,
      });
    } else if (bad++ < TOLD) {
      const issue = judged.error.issues[0];
      problems.push(
        problem(
          facts,
          'file',
          `Line ${info.lines} of the price file (${id}): ${String(issue?.path[0] ?? '')}: ${issue?.message ?? ''}`,
        ),
      );
    }
  }
  if (bad > TOLD)
    problems.push(problem(facts, 'file', `${bad - TOLD} more lines of the price file are not right.`));
  return { rows: [rows], problems };
}

function rowValue(record: string[], column: ReadonlyMap<string, number>, from: PriceFile, id: string) {
  const cell = (name: string) => record[column.get(name) ?? -1] || undefined;
  const value: Record<string, unknown> = { name: cell('name') ?? id, kind: from.kind };
  for (const name of ['cost', 'list', 'core'] as const) {
    const amount = cell(name)?.replace(/[^\d.,-]/g, '');
    if (amount) value[name] = amount;
  }
  const unit = cell('unit');
  if (unit) value.unit = unit.toLowerCase();
  if (from.condition) value.condition = from.condition;
  if (from.role) value.role = from.role;
  return value;
}

function fromOf(facts: PieceFacts): PriceFile | undefined {
  if (facts.file.kind?.kind !== 'parts') return undefined;
  return facts.parts.find((one) => one.section === undefined && one.key === 'from')?.value as
    | PriceFile
    | undefined;
}

function problem(facts: PieceFacts, field: string, message: string): Located {
  const spot = facts.file.spotOf(['from', field]);
  return {
    code: 'price-file',
    severity: 'error',
    message,
    path: ['from', field],
    start: spot?.start ?? 0,
    end: spot?.end ?? 0,
  };
}
