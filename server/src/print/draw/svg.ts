/** Drawings for pages: ink and patterns only, so that they read the same without color. */
import { escape as escaped } from 'html-escaper';
import type { Drawing } from '../doc.ts';

export const INK = '#1f2a44';
export const PALE = '#d9dce6';
export const PAPER = '#ffffff';
const FONT = 'Roboto, system-ui, sans-serif';

/** A drawing with its words inside it for whoever cannot see it. */
export function drawing(width: number, height: number, body: string, text: string): Drawing {
  return {
    text,
    svg: `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" role="img" aria-label="${escaped(text)}">${body}</svg>`,
  };
}

interface Label {
  readonly size?: number;
  readonly bold?: boolean;
  readonly anchor?: 'start' | 'middle' | 'end';
}

export function label(
  x: number,
  y: number,
  text: string,
  { size = 13, bold = false, anchor = 'start' }: Label = {},
): string {
  return `<text x="${at(x)}" y="${at(y)}" font-family="${FONT}" font-size="${size}"${bold ? ' font-weight="bold"' : ''} text-anchor="${anchor}" fill="${INK}">${escaped(text)}</text>`;
}

export function box(x: number, y: number, width: number, height: number, more: string): string {
  return `<rect x="${at(x)}" y="${at(y)}" width="${at(width)}" height="${at(height)}" ${more}/>`;
}

export function stroke(x1: number, y1: number, x2: number, y2: number, width = 1): string {
  return `<line x1="${at(x1)}" y1="${at(y1)}" x2="${at(x2)}" y2="${at(y2)}" stroke="${INK}" stroke-width="${width}"/>`;
}

export type Texture = 'solid' | 'slant' | 'dots' | 'bars' | 'plain';

/** A filled box in one of five textures, drawn line by line: no renderer has to know patterns, and no two look alike. */
export function textured(x: number, y: number, width: number, height: number, texture: Texture): string {
  const frame = box(x, y, width, height, `fill="none" stroke="${INK}" stroke-width="1"`);
  if (texture === 'solid') return box(x, y, width, height, `fill="${INK}" stroke="${INK}" stroke-width="1"`);
  const parts = [box(x, y, width, height, `fill="${texture === 'plain' ? PAPER : PALE}"`)];
  if (texture === 'slant') {
    for (let from = x - height; from < x + width; from += 6) {
      const start = Math.max(from, x);
      const end = Math.min(from + height, x + width);
      if (end > start)
        parts.push(stroke(start, y + height - (start - from), end, y + height - (end - from), 1.1));
    }
  }
  if (texture === 'dots') {
    for (let dx = 4; dx < width - 2; dx += 6)
      for (let dy = 4; dy < height - 2; dy += 6)
        parts.push(`<circle cx="${at(x + dx)}" cy="${at(y + dy)}" r="1.2" fill="${INK}"/>`);
  }
  if (texture === 'bars') {
    for (let dx = 4; dx < width; dx += 5) parts.push(stroke(x + dx, y, x + dx, y + height, 1));
  }
  return parts.join('') + frame;
}

/** Figures of a drawing, to a tenth. */
export function at(value: number): string {
  return String(Math.round(value * 10) / 10);
}
