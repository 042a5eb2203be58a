/** The smallest pieces of a PDF: a text, a line, facts side by side. */
import type { Content } from 'pdfmake/interfaces.js';
import type { Fact } from '../doc.ts';
import { INK } from '../draw/svg.ts';
import { clean } from './markup.ts';

export const SOFT = '#444c60';
export const LINE = '#b5b9c6';

/** As its fonts can print it: they have no narrow space that does not break, which numbers and times of some languages hold. */
export function printable(text: string): string {
  return clean(text).replaceAll('\u202f', '\u00a0');
}

export function words(text: string, more: object = {}): Content {
  return { text: printable(text), ...more };
}

export function rule(width: number, weight: number, more: object = {}): Content {
  return {
    canvas: [{ type: 'line', x1: 0, y1: 0, x2: width, y2: 0, lineWidth: weight, lineColor: INK }],
    ...more,
  };
}

/** Facts side by side, so many in a row. */
export function factGrid(
  facts: readonly Fact[],
  across: number,
  margin: [number, number, number, number] = [0, 4, 0, 0],
): Content {
  const rows: Content[] = [];
  for (let at = 0; at < facts.length; at += across) {
    const some = facts.slice(at, at + across);
    const fill = Array.from({ length: across - some.length }, (): Content => ({ text: '' }));
    rows.push({
      columnGap: 14,
      margin: [0, 0, 0, 4],
      columns: [
        ...some.map(
          ({ label, value }): Content => ({
            stack: [words(label, { fontSize: 7.5, color: SOFT }), words(value, { fontSize: 9 })],
          }),
        ),
        ...fill,
      ],
    });
  }
  return { stack: rows, margin };
}
