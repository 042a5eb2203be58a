import { usesAnchors } from './anchors.ts';
import { COLON, DASH, HASH, isBreak, opensPlain, SPACE, TAB } from './chars.ts';
import { LineWalker } from './lines.ts';
import { Copies, ownCopy } from './own-copy.ts';
import { Piece, type PieceKind } from './piece.ts';
import { readPiece } from './read.ts';

/** The catalog the text at hand lies in: its name and the column of the line that opened it. */
export interface Context {
  readonly section: string | undefined;
  readonly sectionIndent: number;
  /** Whether the text begins the file, so that `---` and `%` lines may stand above the first name. */
  readonly fileStart: boolean;
}

const TOP: Context = { section: undefined, sectionIndent: -1, fileStart: true };

/**
 * Cuts a text into pieces at the lines that start one.
 *
 * In YAML what belongs to a name is set in deeper than the name (YAML 1.2.2, 8.2), so a line with words at or left of
 * the column of the current piece starts the next. Lines that never start one: list dashes (a list may stand at its
 * name's column), closing brackets, the `:` of a `? ` name, `---`, `...`, and lines set in with a tab.
 * A comment goes with the piece below when it stands no deeper than that piece's first line, else with the one above;
 * an empty line stays with the piece above, because at the end of a `|+` text it is content.
 *
 * What a line starts depends only on the piece above it and on the catalog around it, never on lines further away.
 */
export function splitPieces(text: string, splitKeys: ReadonlySet<string>, context: Context = TOP): Piece[] {
  return new Splitter(text, splitKeys, context).run();
}

const BOM = 0xfeff;

class Splitter {
  readonly #text: string;
  readonly #splitKeys: ReadonlySet<string>;
  readonly #walker: LineWalker;
  readonly #pieces: Piece[] = [];
  readonly #marks: boolean;
  readonly #copies: Copies;
  /** Comments since the last line with words, each less deep than those before it. */
  readonly #comments: { start: number; indent: number; line: number }[] = [];
  #section: string | undefined;
  #sectionIndent: number;
  #fileStart: boolean;

  /** The open piece: where it starts, its first line, and the column of what follows that line. */
  #open = false;
  #start = 0;
  #startLine = 0;
  #head = 0;
  #indent = 0;
  #kind: PieceKind = 'whole';
  #key = '';
  #keyEnd = 0;
  #pieceSection: string | undefined;
  #pieceSectionIndent = -1;
  #valueBelow = false;
  #childIndent = -1;
  #takesEntries = false;

  constructor(text: string, splitKeys: ReadonlySet<string>, context: Context) {
    this.#text = text;
    this.#splitKeys = splitKeys;
    this.#walker = new LineWalker(text);
    this.#copies = new Copies(text);
    this.#marks = text.includes('&') || text.includes('*');
    this.#section = context.section;
    this.#sectionIndent = context.sectionIndent;
    this.#fileStart = context.fileStart;
  }

  run(): Piece[] {
    const text = this.#text;
    let at = 0;
    let line = 0;
    while (at < text.length) {
      let next = this.#walker.next(at);
      const broken = next !== -1;
      if (!broken) next = text.length;
      this.#line(at, next, line);
      at = next;
      if (broken) line++;
    }
    this.#close(text.length, line);
    return this.#pieces;
  }

  #line(start: number, end: number, line: number): void {
    const text = this.#text;
    let at = start;
    if (at === 0 && this.#fileStart && text.charCodeAt(0) === BOM) at++;
    const margin = at;
    let ch = text.charCodeAt(at);
    while (ch === SPACE) ch = text.charCodeAt(++at);
    const indent = at - margin;
    if (at >= end || isBreak(ch)) return;
    if (ch === TAB) {
      this.#comments.length = 0;
      return;
    }
    if (ch === HASH) {
      const last = this.#comments.at(-1);
      if (!last || indent < last.indent) this.#comments.push({ start, indent, line });
      return;
    }
    if (this.#starts(at, indent, end)) this.#begin(start, at, end, indent, line);
    else if (this.#open) this.#continue(ch, at, indent);
    this.#comments.length = 0;
  }

  #starts(at: number, indent: number, end: number): boolean {
    const text = this.#text;
    const ch = text.charCodeAt(at);
    if (!this.#open) return !(this.#fileStart && indent === 0 && (ch === 37 || marker(text, at)));
    if (this.#takesEntries && indent > this.#indent) return !belongs(text, at) && ch !== 91 && ch !== 123;
    if (indent > this.#indent)
      return (
        this.#kind === 'entry' &&
        this.#valueBelow &&
        indent < this.#childIndent &&
        !belongs(text, at) &&
        opens(text, at, end)
      );
    return !belongs(text, at);
  }

  #continue(ch: number, at: number, indent: number): void {
    if (this.#childIndent === -1 && indent > this.#indent) this.#childIndent = indent;
    // A list at the column of its name: lines set in deeper are its items', whatever their column.
    if (indent <= this.#indent) this.#valueBelow = false;
    // A list or brackets below the section's line: all of it stays one piece.
    if (this.#takesEntries && (ch === 91 || ch === 123 || belongs(this.#text, at)))
      this.#takesEntries = false;
  }

  #begin(start: number, at: number, end: number, indent: number, line: number): void {
    const comment = this.#comments.find((candidate) => candidate.indent <= indent);
    const from = this.#open ? (comment?.start ?? start) : 0;
    const fromLine = this.#open ? (comment?.line ?? line) : 0;
    this.#close(from, fromLine);
    const { key, keyEnd, rest } = keyOf(this.#text, at, end);
    const inside = this.#section !== undefined && indent > this.#sectionIndent;
    this.#open = true;
    this.#start = from;
    this.#startLine = fromLine;
    this.#head = at;
    this.#indent = indent;
    this.#key = ownCopy(key, 0, key.length);
    this.#keyEnd = keyEnd;
    this.#childIndent = -1;
    this.#valueBelow = rest === 'nothing';
    this.#takesEntries = false;
    if (inside) {
      this.#kind = 'entry';
      this.#pieceSection = this.#section;
      this.#pieceSectionIndent = this.#sectionIndent;
      return;
    }
    this.#pieceSection = undefined;
    this.#pieceSectionIndent = -1;
    this.#section = undefined;
    this.#sectionIndent = -1;
    if (this.#splitKeys.has(key)) {
      this.#kind = 'section';
      if (rest !== 'other') {
        this.#takesEntries = true;
        this.#section = key;
        this.#sectionIndent = indent;
      }
    } else this.#kind = 'header';
  }

  #close(end: number, line: number): void {
    if (!this.#open) {
      if (this.#pieces.length === 0 && end === this.#text.length) this.#push('whole', end, line);
      return;
    }
    this.#push(this.#kind, end, line);
  }

  #push(kind: PieceKind, end: number, line: number): void {
    const text = this.#copies.take(this.#start, end);
    this.#pieces.push(
      new Piece(text, {
        kind,
        section: this.#pieceSection,
        sectionIndent: this.#pieceSectionIndent,
        key: this.#key,
        indent: this.#indent,
        head: this.#open ? this.#head - this.#start : 0,
        keyEnd: this.#open ? this.#keyEnd - this.#start : 0,
        lines: line - this.#startLine,
        anchors: this.#marks && usesAnchors(text),
      }),
    );
  }
}

/** `---` or `...` alone at the start of a line. */
function marker(text: string, at: number): boolean {
  const word = text.slice(at, at + 3);
  return (word === '---' || word === '...') && /^[ \t]*(?:\r|\n|$|#)/.test(text.slice(at + 3, at + 40));
}

/** Whether the line goes on with what stands above even at the column of its name. */
function belongs(text: string, at: number): boolean {
  const ch = text.charCodeAt(at);
  if (ch === 93 || ch === 125 || ch === 44) return true;
  if (ch === DASH || ch === COLON) {
    const next = text.charCodeAt(at + 1);
    if (isBlank(next)) return true;
    return ch === DASH && marker(text, at);
  }
  return ch === 46 && marker(text, at);
}

/** Whether the line is a name with nothing after its colon, as the first line of an entry usually is. */
function opens(text: string, at: number, end: number): boolean {
  return keyOf(text, at, end).rest === 'nothing';
}

function isBlank(ch: number): boolean {
  return ch === SPACE || ch === TAB || isBreak(ch) || Number.isNaN(ch);
}

/**
 * The name a line starts with, and what follows its colon: `nothing` (or a comment), `text`, or `other` (brackets,
 * quotes, marks and long texts, which may go on over the next lines; also a line without a name).
 */
function keyOf(text: string, at: number, end: number): KeyLine {
  const none: KeyLine = { key: '', keyEnd: wordsEnd(text, at, end), rest: 'other' };
  let colon = -1;
  let key = '';
  let keyEnd = at;
  if (opensPlain(text, at)) {
    for (let i = at; i < end; i++) {
      const ch = text.charCodeAt(i);
      if (ch === COLON && isBlank(text.charCodeAt(i + 1))) {
        colon = i;
        break;
      }
      if (ch === HASH && isBlank(text.charCodeAt(i - 1))) break;
    }
    if (colon === -1) return none;
    keyEnd = wordsEnd(text, at, colon);
    key = text.slice(at, keyEnd);
  } else {
    const pair = onlyPair(text.slice(at, end));
    if (!pair) return none;
    key = pair.key;
    keyEnd = at + pair.keyEnd;
    colon = text.indexOf(':', keyEnd);
  }
  let rest = colon + 1;
  while (rest < end && isBlank(text.charCodeAt(rest))) rest++;
  if (rest >= end || text.charCodeAt(rest) === HASH) return { key, keyEnd, rest: 'nothing' };
  return { key, keyEnd, rest: '{[|>&*!"\''.includes(text[rest]!) ? 'other' : 'text' };
}

interface KeyLine {
  readonly key: string;
  readonly keyEnd: number;
  readonly rest: 'nothing' | 'text' | 'other';
}

function wordsEnd(text: string, start: number, end: number): number {
  let at = end;
  while (at > start && isBlank(text.charCodeAt(at - 1))) at--;
  return at;
}

/** The name of a line that starts with a quote, `?` or another mark, found by reading the line. */
function onlyPair(line: string): { key: string; keyEnd: number } | undefined {
  if (line.length > 4096) return undefined;
  const { node, problems } = readPiece(line);
  const pair = node.type === 'map' && !node.flow && problems.length === 0 ? node.pairs[0] : undefined;
  return pair && { key: pair.key.text, keyEnd: pair.key.end };
}
