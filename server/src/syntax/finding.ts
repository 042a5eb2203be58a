import { PROBLEM_LIMIT } from './limits.ts';
import type { Span, SyntaxProblem } from './node.ts';
import { problem } from './problems.ts';

/**
 * A problem with, where one is known, the stretch of text to blank out so that the rest can still be read.
 * Blanking keeps every offset, so the nodes of the mended text are nodes of the text as typed.
 */
export interface Finding extends SyntaxProblem {
  readonly repair?: Span;
}

export function finding(code: string, span: Span, message: string, repair?: Span): Finding {
  const base = problem(code, span.start, span.end, message);
  return repair ? { ...base, repair } : base;
}

/** Collects the findings of one reading, in reading order, up to the limit. */
export class Findings {
  readonly list: Finding[] = [];

  get full(): boolean {
    return this.list.length >= PROBLEM_LIMIT;
  }

  add(code: string, span: Span, message: string, repair?: Span): void {
    if (!this.full) this.list.push(finding(code, span, message, repair));
  }
}

export function lineStart(text: string, offset: number): number {
  return text.lastIndexOf('\n', offset - 1) + 1;
}

/** Where the line ends, without its line break and without spaces before it. */
export function lineEnd(text: string, offset: number): number {
  let end = text.indexOf('\n', offset);
  if (end === -1) end = text.length;
  while (end > offset && isSpace(text.charCodeAt(end - 1))) end--;
  return end;
}

/** The words of the line that holds `offset`, without the spaces around them. */
export function lineContent(text: string, offset: number): Span {
  let start = lineStart(text, offset);
  const end = lineEnd(text, Math.max(start, offset));
  while (start < end && isSpace(text.charCodeAt(start))) start++;
  return { start, end: Math.max(start, end) };
}

/** The first line with words on it at or after `offset`. */
export function nextContent(text: string, offset: number): Span {
  let at = offset;
  while (at < text.length) {
    const ch = text.charCodeAt(at);
    if (ch === 35) at = lineEnd(text, at);
    else if (isSpace(ch) || ch === 10) at++;
    else return { start: at, end: lineEnd(text, at) };
  }
  return { start: offset, end: offset };
}

/** Whether only spaces and dashes stand before `offset` on its line. */
export function isFirstOnLine(text: string, offset: number): boolean {
  return /^[ \t-]*$/.test(text.slice(lineStart(text, offset), offset));
}

export function spaces(count: number): string {
  return count === 1 ? '1 space' : `${count} spaces`;
}

export function quoted(text: string): string {
  const flat = text.replace(/\s+/g, ' ').trim();
  return `\`${flat.length > 40 ? `${flat.slice(0, 39)}…` : flat}\``;
}

function isSpace(ch: number): boolean {
  return ch === 32 || ch === 9 || ch === 13;
}
