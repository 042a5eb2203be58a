/** Changes that mend nothing but save typing: a quantity in another unit, a catalog in order, lines made into a template. */
import type { CodeAction } from 'vscode-languageserver-types';
import { round } from '../../../../schemas/values/decimal.ts';
import { convert, parseQuantity } from '../../../../schemas/values/quantity.ts';
import { type Dimension, unitsOf } from '../../../../schemas/values/units.ts';
import { folderOf } from '../../book/paths.ts';
import type { ListNode } from '../../syntax/node.ts';
import type { Piece } from '../../syntax/piece.ts';
import { writePair } from '../../syntax/write.ts';
import { setAt } from '../edits.ts';
import { innermost, placeAt } from '../place.ts';
import { type ActionContext, action } from './context.ts';

const REWRITE = 'refactor.rewrite';
const EXTRACT = 'refactor.extract';
const SORT = 'refactor.rewrite';

/** Places after the point in a converted quantity that does not come out even. */
const PLACES = 4;
const UNITS_OFFERED = 4;

export function refactorings(context: ActionContext): CodeAction[] {
  return [...otherUnits(context), ...sorted(context), ...intoTemplate(context)];
}

function otherUnits(context: ActionContext): CodeAction[] {
  const { file, range } = context;
  const place = placeAt(file, range.start);
  const { meta, node, path } = innermost(place);
  if (place.on !== 'value' || node.type !== 'scalar' || meta.scalar !== 'quantity' || !meta.dimension)
    return [];
  const dimension = meta.dimension as Dimension;
  const typed = parseQuantity(node.text, dimension);
  if (!typed.ok) return [];
  const units = unitsOf(dimension).filter((unit) => unit.id !== typed.value.unit.id);
  return units.slice(0, UNITS_OFFERED).flatMap((unit) => {
    const exact = convert(typed.value, unit).amount;
    const shown = round(exact, PLACES);
    const text = `${shown.toString()} ${unit.id}`;
    const edits = setAt(file, path, text);
    const even =
      shown.cmp(exact) === 0 &&
      convert({ amount: shown, unit }, typed.value.unit).amount.cmp(typed.value.amount) === 0;
    return edits ? [action(context, `Write as ${text}${even ? '' : ' (rounded)'}`, REWRITE, edits)] : [];
  });
}

/** The entries of the catalog at the cursor by id; each takes the comments above it along. */
function sorted(context: ActionContext): CodeAction[] {
  const { file, range } = context;
  const { piece } = file.source.offsetOf(range.start);
  const section = piece.section ?? (piece.kind === 'section' ? piece.key : undefined);
  if (section === undefined) return [];
  const entries: Piece[] = [];
  for (const one of file.source.pieces()) if (one.section === section) entries.push(one);
  const [first, last] = [entries[0], entries.at(-1)];
  if (!first || !last || first === last || !/[\r\n]$/.test(last.text)) return [];
  const natural = new Intl.Collator('en', { numeric: true });
  const ordered = [...entries].sort((a, b) => natural.compare(a.key, b.key));
  if (ordered.every((one, i) => one === entries[i])) return [];
  const at = { start: file.source.positionOf(first, 0), end: file.source.positionOf(last, last.text.length) };
  return [
    action(context, `Sort "${section}" by id`, SORT, [
      { range: at, newText: ordered.map((one) => one.text).join('') },
    ]),
  ];
}

/** Whole lines of a job that are selected, moved to a template file of their own and taken from there. */
function intoTemplate(context: ActionContext): CodeAction[] {
  const { file, range, estimates } = context;
  if (file.kind?.kind !== 'job' || range.start.line === range.end.line) return [];
  const place = placeAt(file, range.start);
  const list = place.levels.findLast((level) => level.node.type === 'list' && level.path.at(-1) === 'lines');
  if (!list) return [];
  const node = list.node as ListNode;
  if (node.flow) return [];
  const { piece } = place;
  const from = file.source.offsetOf({ line: range.start.line, character: 0 });
  const to = file.source.offsetOf(range.end);
  if (from.piece !== piece || to.piece !== piece) return [];
  const chosen = node.items.filter((item) => item.end > from.offset && item.start < to.offset);
  const [first, last] = [chosen[0], chosen.at(-1)];
  if (!first || !last) return [];
  const dash = piece.text.lastIndexOf('-', first.start);
  const start = piece.text.lastIndexOf('\n', dash) + 1;
  const column = dash - start;
  const body = piece.text.slice(start, last.end);
  const eol = /\r\n|\n|\r/.exec(piece.text)?.[0] ?? '\n';
  const id = freeId(context);
  const lines = body
    .split(/\r\n|\n|\r/)
    .map((line) =>
      `  ${line.startsWith(' '.repeat(column)) ? line.slice(column) : line.trimStart()}`.trimEnd(),
    );
  const content = [
    'kind: template',
    writePair('id', id, { column: 0, eol, flow: false }),
    writePair('name', `Lines of ${String(file.value.id ?? 'a job')}`, { column: 0, eol, flow: false }),
    'lines:',
    ...lines,
    '',
  ].join(eol);
  const uri = `${folderOf(estimates.book.root)}${id}.template.yaml`;
  const replaced = {
    start: file.source.positionOf(piece, dash),
    end: file.source.positionOf(piece, last.end),
  };
  return [
    {
      title: `Make a template of ${chosen.length === 1 ? 'this line' : `these ${chosen.length} lines`}`,
      kind: EXTRACT,
      edit: {
        documentChanges: [
          { kind: 'create', uri, options: { ignoreIfExists: false } },
          {
            textDocument: { uri, version: null },
            edits: [
              {
                range: { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } },
                newText: content,
              },
            ],
          },
          {
            textDocument: { uri: file.uri, version: null },
            edits: [{ range: replaced, newText: `- template: ${id}` }],
          },
        ],
      },
    },
  ];
}

function freeId({ estimates, file }: ActionContext): string {
  const base = `from-${String(file.value.id ?? 'job')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')}`;
  for (let n = 1; ; n++) {
    const id = n === 1 ? base : `${base}-${n}`;
    if (!estimates.book.definition('template', id)) return id;
  }
}
