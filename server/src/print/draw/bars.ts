/** Where the money goes: one bar an option, all on one scale, told apart by texture. */
import type { Drawing } from '../doc.ts';
import { at, drawing, label, type Texture, textured } from './svg.ts';

export interface Bar {
  readonly name: string;
  readonly total: string;
  /** In the order of the legend, none below zero. */
  readonly parts: readonly number[];
}

const TEXTURES: readonly Texture[] = ['solid', 'slant', 'plain', 'dots', 'bars'];
const WIDTH = 460;
const BAR = 30;
const ROW = 66;

export function barsDrawing(bars: readonly Bar[], legend: readonly string[], text: string): Drawing {
  const longest = Math.max(...bars.map((bar) => bar.parts.reduce((a, b) => a + b, 0)), 1);
  const scale = (WIDTH - 2) / longest;
  const parts: string[] = [];
  const used = legend.map((_, i) => bars.some((bar) => (bar.parts[i] ?? 0) > 0));
  let [x, y] = [0, 0];
  for (const [i, name] of legend.entries()) {
    if (!used[i]) continue;
    const width = 30 + name.length * 7.2 + 16;
    if (x + width > WIDTH) [x, y] = [0, y + 24];
    parts.push(textured(x + 1, y + 4, 20, 14, TEXTURES[i % TEXTURES.length]!), label(x + 28, y + 16, name));
    x += width;
  }
  y += 36;
  for (const bar of bars) {
    parts.push(
      label(0, y + 14, bar.name, { bold: true, size: 15 }),
      label(WIDTH, y + 14, bar.total, { bold: true, size: 15, anchor: 'end' }),
    );
    let left = 1;
    for (const [i, value] of bar.parts.entries()) {
      const width = value * scale;
      if (width > 0) parts.push(textured(left, y + 22, width, BAR, TEXTURES[i % TEXTURES.length]!));
      left += width;
    }
    y += ROW;
  }
  return drawing(WIDTH, Number(at(y)), parts.join(''), text);
}
