/** The outline of a file. */
import type { DocumentSymbol, SymbolKind } from 'vscode-languageserver-types';
import type { BookFile } from '../book/file.ts';
import { countLines, positionIn } from '../syntax/lines.ts';
import type { Node, Span } from '../syntax/node.ts';
import type { Piece } from '../syntax/piece.ts';
import { contentSpan } from './content.ts';
import { type IdMark, idsIn } from './ids.ts';
import { contentEnd, PieceLines, piecesWithLines } from './piece-lines.ts';
import { isOutdated, nameOf, SYMBOL, SYMBOL_OF, shortened } from './symbol-kinds.ts';

/** Files with more pieces than this show their entries without what is inside them. */
const DETAILED = 2000;
const DEPRECATED = 1;

export function documentSymbols(file: BookFile): DocumentSymbol[] {
  const detailed = file.source.size <= DETAILED;
  const symbols: DocumentSymbol[] = [];
  let catalog: DocumentSymbol | undefined;
  for (const { piece, first } of piecesWithLines(file)) {
    const whole = detailed || piece.section === undefined;
    const made = whole ? read(file, new PieceLines(piece, first)) : [glance(file, piece, first)];
    const [symbol] = made;
    if (!symbol) continue;
    if (piece.section !== undefined && catalog) {
      catalog.children!.push(...made);
      catalog.range = { start: catalog.range.start, end: symbol.range.end };
      continue;
    }
    symbols.push(...made);
    if (piece.kind === 'section') {
      catalog = symbol;
      symbol.kind = SYMBOL.object;
      symbol.children ??= [];
    }
  }
  return symbols;
}

/** Symbols of a piece from its nodes. */
function read(file: BookFile, lines: PieceLines): DocumentSymbol[] {
  const ids = new Map<number, IdMark>();
  for (const mark of idsIn(file, lines.piece)) {
    if (mark.is === 'definition' && mark.onKey) ids.set(mark.start, mark);
  }
  const { node } = lines.piece.read();
  const symbols = children(node);
  const entry = symbols[0];
  if (entry && lines.piece.kind === 'entry') mark(file, lines.piece, entry);
  return symbols;

  function children(parent: Node): DocumentSymbol[] {
    if (parent.type === 'map') {
      return parent.pairs.map((pair) => {
        const id = ids.get(pair.key.start);
        return symbol(pair.key.text, id && SYMBOL_OF[id.kinds[0]!], pair, pair.key, pair.value);
      });
    }
    if (parent.type !== 'list') return [];
    return parent.items.map((item, i) => symbol(itemName(item, i), undefined, item, headOf(item), item, ''));
  }

  function symbol(
    name: string,
    kind: SymbolKind | undefined,
    span: Span,
    head: Span,
    value: Node,
    detail = detailOf(value),
  ): DocumentSymbol {
    const inside = children(value);
    return {
      name: shortened(name).trim() || '""',
      detail,
      kind: kind ?? KINDS[value.type],
      range: lines.range(span),
      selectionRange: lines.range(contentSpan(lines.piece, head)),
      ...(inside.length > 0 ? { children: inside } : {}),
    };
  }
}

/** The symbol of an entry from what is known of it already, without reading its text again. */
function glance(file: BookFile, piece: Piece, first: number): DocumentSymbol {
  const [definition] = file.factsAt(piece)?.definitions ?? [];
  const quoted = /["']/.test(piece.text[piece.head] ?? '') ? 2 : 0;
  const key = contentSpan(piece, { start: piece.head, end: piece.head + piece.key.length + quoted });
  const above = piece.text.slice(0, piece.head);
  const line = first + countLines(above);
  const indent = piece.indent - piece.head;
  const end = positionIn(piece.text, contentEnd(piece));
  const symbol: DocumentSymbol = {
    name: shortened(piece.key).trim() || '""',
    kind: definition ? SYMBOL_OF[definition.kind] : SYMBOL.object,
    range: {
      start: { line, character: piece.indent },
      end: { line: first + end.line, character: end.character },
    },
    selectionRange: {
      start: { line, character: key.start + indent },
      end: { line, character: key.end + indent },
    },
  };
  mark(file, piece, symbol);
  return symbol;
}

/** Says what an entry is called, and whether it is outdated. */
function mark(file: BookFile, piece: Piece, symbol: DocumentSymbol): void {
  const value = file.factsAt(piece)?.parts[0]?.value;
  symbol.detail = nameOf(value) || (symbol.detail ?? '');
  if (isOutdated(value)) symbol.tags = [DEPRECATED];
}

const KINDS: Readonly<Record<Node['type'], SymbolKind>> = {
  map: SYMBOL.object,
  list: SYMBOL.array,
  scalar: SYMBOL.property,
  empty: SYMBOL.property,
};

function detailOf(value: Node): string {
  if (value.type === 'scalar') return shortened(value.text);
  if (value.type !== 'map') return '';
  const name = value.pairs.find((pair) => pair.key.text === 'name')?.value;
  return name?.type === 'scalar' ? shortened(name.text) : '';
}

/** A line of a job is called by its first field: `part TC-1`. */
function itemName(item: Node, index: number): string {
  if (item.type === 'scalar') return item.text;
  const lead = item.type === 'map' ? item.pairs[0] : undefined;
  if (!lead) return `${index + 1}`;
  return lead.value.type === 'scalar' ? `${lead.key.text} ${lead.value.text}` : lead.key.text;
}

function headOf(item: Node): Span {
  const lead = item.type === 'map' ? item.pairs[0] : undefined;
  if (!lead) return item;
  return lead.value.type === 'scalar' ? { start: lead.key.start, end: lead.value.end } : lead.key;
}
