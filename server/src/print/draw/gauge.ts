/** A reading beside what is normal: on a ruler, or on a row of words. */
import type { Drawing } from '../doc.ts';
import { box, drawing, INK, label, PALE, PAPER, stroke, textured } from './svg.ts';

export interface Ruler {
  /** As numbers, in one unit: only where things stand comes from them, never what is printed. */
  readonly reading: number;
  readonly least: number | undefined;
  readonly most: number | undefined;
  readonly readingText: string;
  readonly leastText: string | undefined;
  readonly mostText: string | undefined;
  readonly words: { readonly normal: string; readonly yours: string };
  /** The whole of it in words. */
  readonly text: string;
}

const WIDTH = 420;
const LEFT = 14;
const RIGHT = WIDTH - 14;

export function rulerDrawing(ruler: Ruler): Drawing {
  const { reading, least, most, words } = ruler;
  const [low, high] = reach(reading, least, most);
  const place = (value: number) => LEFT + ((value - low) / (high - low)) * (RIGHT - LEFT);
  const from = least === undefined ? LEFT : place(least);
  const to = most === undefined ? RIGHT : place(most);
  const mark = place(reading);
  const top = 46;
  const half = 11;
  const clear = (x: number, text: string) =>
    Math.min(Math.max(x, LEFT + text.length * 3.6), RIGHT - text.length * 3.6);
  const yours = `${words.yours} ${ruler.readingText}`;
  const parts = [
    box(LEFT, top, RIGHT - LEFT, half * 2, `fill="${PAPER}" stroke="${INK}" stroke-width="1"`),
    textured(from, top, to - from, half * 2, 'slant'),
    `<path d="M${mark} ${top + half * 2 + 2} l-7 -13 v-${half * 2 - 2} h14 v${half * 2 - 2} z" fill="${INK}" stroke="${PAPER}" stroke-width="2"/>`,
    label(clear(mark, yours), top - 10, yours, { bold: true, anchor: 'middle', size: 14 }),
  ];
  const ends = [
    least !== undefined && ruler.leastText ? { x: from, text: ruler.leastText } : undefined,
    most !== undefined && ruler.mostText ? { x: to, text: ruler.mostText } : undefined,
  ].filter((end) => end !== undefined);
  for (const { x, text } of ends) {
    parts.push(stroke(x, top - 4, x, top + half * 2 + 6, 1.5));
    parts.push(label(clear(x, text), top + half * 2 + 20, text, { anchor: 'middle' }));
  }
  // The word stands inside the band where there is room beside the mark, else below it.
  const onMark = mark > from && mark < to;
  const [start, end] = !onMark ? [from, to] : mark - from > to - mark ? [from, mark] : [mark, to];
  const room = words.normal.length * 8 + 12;
  const inside = end - start > room + 24;
  const middle = (start + end) / 2;
  if (inside) parts.push(box(middle - room / 2, top + 3, room, half * 2 - 6, `fill="${PAPER}"`));
  parts.push(
    inside
      ? label(middle, top + 15.5, words.normal, { anchor: 'middle' })
      : label(clear((from + to) / 2, words.normal), top + half * 2 + 37, words.normal, { anchor: 'middle' }),
  );
  return drawing(WIDTH, inside ? 94 : 110, parts.join(''), ruler.text);
}

/** Where the ruler starts and ends: around everything that stands on it, and not below zero where nothing is. */
function reach(reading: number, least: number | undefined, most: number | undefined): [number, number] {
  const all = [reading, least, most].filter((value) => value !== undefined);
  const [low, high] = [Math.min(...all), Math.max(...all)];
  const open = least === undefined || most === undefined;
  const room = (high - low || Math.abs(high) || 1) * (open ? 0.9 : 0.4);
  const start = low - room;
  return [low >= 0 && start < 0 ? 0 : start, high + room];
}

export interface Scale {
  readonly words: readonly string[];
  /** Place of the last word that is normal, and of the reading. */
  readonly normal: number;
  readonly reading: number;
  readonly labels: { readonly normal: string; readonly yours: string };
  readonly text: string;
}

export function scaleDrawing(scale: Scale): Drawing {
  const { words, normal, reading, labels } = scale;
  const step = (RIGHT - LEFT) / Math.max(words.length, 1);
  const top = 34;
  const height = 30;
  const parts = words.map((word, i) => {
    const x = LEFT + i * step;
    const here = i === reading;
    const fill = here ? INK : i <= normal ? PALE : PAPER;
    const size = Math.min(13, (step / Math.max(word.length, 1)) * 1.6);
    return (
      box(x, top, step, height, `fill="${fill}" stroke="${INK}" stroke-width="1"`) +
      label(x + step / 2, top + 19.5, word, { anchor: 'middle', size, bold: here }).replace(
        `fill="${INK}"`,
        `fill="${here ? PAPER : INK}"`,
      )
    );
  });
  const mark = LEFT + (reading + 0.5) * step;
  const edge = LEFT + (normal + 1) * step;
  parts.push(
    `<path d="M${mark - 7} ${top - 12} h14 l-7 10 z" fill="${INK}"/>`,
    label(mark, top - 17, labels.yours, { anchor: 'middle', bold: true, size: 14 }),
    stroke(LEFT, top + height + 9, edge, top + height + 9, 1.5),
    stroke(LEFT, top + height + 5, LEFT, top + height + 13, 1.5),
    stroke(edge, top + height + 5, edge, top + height + 13, 1.5),
    label((LEFT + edge) / 2, top + height + 26, labels.normal, { anchor: 'middle' }),
  );
  return drawing(WIDTH, top + height + 34, parts.join(''), scale.text);
}
