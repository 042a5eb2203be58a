/**
 * Colours by meaning: ids by what they name, `$parameters`, amounts, shares, quantities, days, words of a choice.
 * Keys and comments are left to the grammar of the language.
 */
import type { SemanticTokens, SemanticTokensDelta } from 'vscode-languageserver-types';
import { z } from 'zod';
import { type FieldMeta, metaOf, type RefKind, type ScalarKind } from '../../../schemas/declare.ts';
import type { Book } from '../book/book.ts';
import { declarationFor } from '../book/facts.ts';
import type { BookFile } from '../book/file.ts';
import { PARAMETER, visit } from '../book/marks.ts';
import type { Range } from '../syntax/lines.ts';
import type { ScalarNode, Span } from '../syntax/node.ts';
import { entriesOf, type Piece } from '../syntax/piece.ts';
import { contentSpan, isRepeat } from './content.ts';
import { PieceLines } from './piece-lines.ts';
import { isOutdated } from './symbol-kinds.ts';

/** Only types of the protocol, so that every theme has a colour for them. */
export const TOKEN_TYPES = [
  'variable',
  'function',
  'method',
  'class',
  'interface',
  'property',
  'event',
  'struct',
  'macro',
  'namespace',
  'enum',
  'enumMember',
  'parameter',
  'number',
  'keyword',
] as const;
type TokenType = (typeof TOKEN_TYPES)[number];

/** The first two are the protocol's; the others tell sorts of numbers apart for themes that care. */
export const TOKEN_MODIFIERS = ['definition', 'deprecated', 'money', 'percent', 'quantity', 'date'] as const;
type TokenModifier = (typeof TOKEN_MODIFIERS)[number];

const TYPE_OF: Readonly<Record<RefKind, TokenType>> = {
  shop: 'namespace',
  rate: 'property',
  schedule: 'property',
  fee: 'property',
  discount: 'property',
  payer: 'property',
  customer: 'property',
  warranty: 'property',
  supplier: 'property',
  field: 'property',
  jurisdiction: 'namespace',
  'tax-class': 'enumMember',
  part: 'variable',
  step: 'method',
  operation: 'function',
  adder: 'method',
  caution: 'event',
  unit: 'class',
  'fluid-class': 'enumMember',
  trait: 'enumMember',
  role: 'interface',
  finding: 'enum',
  rule: 'event',
  record: 'struct',
  template: 'macro',
  parameter: 'parameter',
  job: 'namespace',
  option: 'enum',
  case: 'function',
};

const SCALAR_TYPES: Readonly<Partial<Record<ScalarKind, readonly [TokenType, ...TokenModifier[]]>>> = {
  money: ['number', 'money'],
  percent: ['number', 'percent'],
  number: ['number'],
  count: ['number'],
  quantity: ['number', 'quantity'],
  range: ['number', 'quantity'],
  hours: ['number', 'quantity'],
  date: ['number', 'date'],
  'date-time': ['number', 'date'],
  year: ['number', 'date'],
  choice: ['enumMember'],
  'selling-unit': ['enumMember'],
  'yes-no': ['keyword'],
};

/** Above this many pieces only what is on the screen is coloured: the whole would be megabytes. */
const MOST_PIECES = 5000;

/** Undefined for a file that is too large to be coloured as a whole. */
export function semanticTokens(book: Book, file: BookFile): number[] | undefined {
  return file.source.size > MOST_PIECES ? undefined : tokensOf(book, file, 0, file.source.size - 1);
}

export function semanticTokensIn(book: Book, file: BookFile, { start, end }: Range): number[] {
  const { source } = file;
  return tokensOf(book, file, source.offsetOf(start).index, source.offsetOf(end).index);
}

/** What has to be replaced in the old numbers to get the new ones: the stretch that differs. */
export function tokensDelta(
  before: readonly number[],
  after: readonly number[],
): SemanticTokensDelta['edits'] {
  let start = 0;
  while (start < before.length && start < after.length && before[start] === after[start]) start++;
  let oldEnd = before.length;
  let newEnd = after.length;
  while (oldEnd > start && newEnd > start && before[oldEnd - 1] === after[newEnd - 1]) {
    oldEnd--;
    newEnd--;
  }
  if (oldEnd === start && newEnd === start) return [];
  return [{ start, deleteCount: oldEnd - start, data: after.slice(start, newEnd) }];
}

interface Token extends Span {
  readonly type: TokenType;
  readonly modifiers: readonly TokenModifier[];
}

/** Tokens of the pieces from one index to another, in the protocol's numbers. */
function tokensOf(book: Book, file: BookFile, from: number, to: number): SemanticTokens['data'] {
  const data: number[] = [];
  let line = 0;
  let startedAt = 0;
  let endedAt = 0;
  for (let index = from; index <= to; index++) {
    const piece = file.source.at(index);
    const lines = new PieceLines(piece, file.source.lineOf(index));
    for (const token of tokensIn(book, file, piece)) {
      const { start, end } = lines.range(token);
      const sameLine = start.line === line;
      // The protocol allows neither tokens over several lines nor overlapping ones (a name given twice).
      const overlaps = start.line < line || (sameLine && start.character < endedAt);
      if (overlaps || end.line !== start.line || end.character === start.character) continue;
      const behind = sameLine ? start.character - startedAt : start.character;
      const { type, modifiers } = token;
      data.push(
        start.line - line,
        behind,
        end.character - start.character,
        TYPES.get(type)!,
        bits(modifiers),
      );
      line = start.line;
      startedAt = start.character;
      endedAt = end.character;
    }
  }
  return data;
}

function tokensIn(book: Book, file: BookFile, piece: Piece): Token[] {
  const { kind } = file;
  if (!kind) return [];
  const tokens: Token[] = [];
  const add = (node: ScalarNode, type: TokenType, modifiers: readonly TokenModifier[]) => {
    if (!isRepeat(piece, node)) tokens.push({ ...contentSpan(piece, node), type, modifiers });
  };
  const addId = (node: ScalarNode, { defines, refers }: FieldMeta) => {
    const kinds = defines ? [defines] : typeof refers === 'string' ? [refers] : (refers ?? []);
    const meant = kinds.find((one) => book.definition(one, node.text)) ?? kinds[0];
    if (!meant) return false;
    const outdated = isOutdated(book.definition(meant, node.text)?.value);
    add(node, TYPE_OF[meant], [...(defines ? DEFINITION : []), ...(outdated ? DEPRECATED : [])]);
    return true;
  };
  for (const entry of entriesOf(piece, file.splitKeys)) {
    const declared = declarationFor(kind, entry);
    if (!declared) continue;
    if (declared.key) addId(entry.key, metaOf(declared.key));
    visit(declared.schema, entry.value, {
      value: (node, schema, meta, _path, templated) => {
        if (node.type !== 'scalar') return;
        if (templated && PARAMETER.test(node.text)) add(node, 'parameter', []);
        else if (addId(node, meta)) return;
        else if (schema instanceof z.ZodLiteral) add(node, 'enumMember', []);
        else {
          const [type, ...modifiers] = (meta.scalar && SCALAR_TYPES[meta.scalar]) ?? [];
          if (type) add(node, type, modifiers);
        }
      },
      key: (node, _schema, meta) => addId(node, meta),
    });
  }
  return tokens.sort((a, b) => a.start - b.start);
}

const DEFINITION: readonly TokenModifier[] = ['definition'];
const DEPRECATED: readonly TokenModifier[] = ['deprecated'];
const TYPES = new Map(TOKEN_TYPES.map((type, i) => [type, i]));

function bits(modifiers: readonly TokenModifier[]): number {
  return modifiers.reduce((sum, one) => sum | (1 << TOKEN_MODIFIERS.indexOf(one)), 0);
}
