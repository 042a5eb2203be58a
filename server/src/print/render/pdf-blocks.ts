/** What stands in a PDF, block by block. */
import type { Column, Content, TableCell } from 'pdfmake/interfaces.js';
import type { Block, Card, Chart, Choose, Drawing, Fact, Finding, Picture, Step } from '../doc.ts';
import { INK } from '../draw/svg.ts';
import { base64 } from './bytes.ts';
import { factGrid, LINE, printable, rule, SOFT, words } from './pdf-parts.ts';
import { isLeafed, table } from './pdf-table.ts';

export function block(one: Block, width: number): Content {
  switch (one.block) {
    case 'section':
      return {
        stack: headed(
          [
            rule(width, 1.4, {
              margin: [0, 16, 0, 4],
              ...(isLeafed(one) ? { pageBreak: 'before' } : {}),
            }),
            words(one.title, { bold: true, fontSize: 14, headlineLevel: 1, margin: [0, 0, 0, 4] }),
          ],
          one.blocks,
          width,
        ),
      };
    case 'part':
      return { stack: headed([partTitle(one.title)], one.blocks, width) };
    case 'text':
      return {
        margin: [0, 3, 0, 3],
        stack: [
          ...(one.label === undefined ? [] : [words(one.label, { fontSize: 7.5, bold: true, color: SOFT })]),
          words(one.text, TEXT[one.as]),
        ],
      };
    case 'list':
      return { ul: one.items.map((item) => words(item, { margin: [0, 0, 0, 2] })), margin: [0, 2, 0, 2] };
    case 'facts':
      return factGrid(one.rows, 3);
    case 'table':
      return table(one);
    case 'finding':
      return finding(one, width);
    case 'chain':
      return chain(one.steps);
    case 'cards':
      return cards(one.cards);
    case 'chart':
      return chart(one, width);
    case 'choose':
      return choose(one);
    case 'picture':
      return picture(one.picture, width / 2);
    case 'sign':
      return sign(one.lines, width);
    case 'steps':
      return { stack: one.steps.map((step) => stepContent(step, width)) };
  }
}

function partTitle(title: string): Content {
  return words(title, { bold: true, fontSize: 11, headlineLevel: 2, margin: [0, 8, 0, 3] });
}

/** A title stays with what follows, unless that is longer than a page. */
function headed(title: readonly Content[], [first, ...rest]: readonly Block[], width: number): Content[] {
  if (!first) return [...title];
  if (first.block === 'part')
    return [...headed([...title, partTitle(first.title)], first.blocks, width), ...flow(rest, width)];
  if (isLong(first)) return [...title, block(first, width), ...flow(rest, width)];
  return [{ unbreakable: true, stack: [...title, block(first, width)] }, ...flow(rest, width)];
}

/** Words that announce what comes next stay with it. */
function flow(blocks: readonly Block[], width: number): Content[] {
  const [first, next] = blocks;
  if (!first) return [];
  if (first.block === 'text' && first.as === 'strong' && next && !isLong(next)) {
    const pair = { unbreakable: true, stack: [block(first, width), block(next, width)] };
    return [pair, ...flow(blocks.slice(2), width)];
  }
  return [block(first, width), ...flow(blocks.slice(1), width)];
}

const TEXT = {
  plain: {},
  lead: { fontSize: 11 },
  quote: { italics: true, fontSize: 11 },
  small: { fontSize: 8.5, color: SOFT },
  strong: { bold: true, headlineLevel: 3 },
} as const;

function isLong(one: Block): boolean {
  return one.block === 'table' || one.block === 'part' || one.block === 'steps' || one.block === 'choose';
}

function finding(one: Finding, width: number): Content {
  const each = Math.min(width / Math.max(one.pictures.length, 2) - 8, 240);
  return {
    unbreakable: true,
    margin: [0, 6, 0, 6],
    stack: [
      {
        text: [
          { text: `${one.number}  `, bold: true, fontSize: 12 },
          { text: printable(one.title), bold: true, fontSize: 12 },
          { text: `   ${printable(one.verdict)}`, fontSize: 9, color: SOFT },
        ],
      },
      ...(one.pictures.length > 0
        ? [
            {
              columnGap: 12,
              margin: [0, 4, 0, 2] as [number, number, number, number],
              columns: one.pictures.map((each1) => ({
                width: 'auto' as const,
                stack: [picture(each1, each)],
              })),
            },
          ]
        : []),
      ...(one.say === undefined ? [] : [words(one.say, { fontSize: 10, margin: [0, 3, 0, 2] })]),
      ...(one.drawing ? [drawn(one.drawing, Math.min(width, 320))] : []),
      factGrid(one.facts, 3),
      ...(one.video ? [words(`${one.video.label} (${one.video.href})`, { fontSize: 8.5 })] : []),
    ],
  };
}

function picture({ image, missing, caption }: Picture, width: number): Content {
  if (!image) return words(missing ?? '', { fontSize: 8.5, color: SOFT, margin: [0, 4, 0, 4] });
  return {
    stack: [
      { image: `data:${image.mime};base64,${base64(image.bytes)}`, fit: [width, 140] },
      words(caption, { fontSize: 8, color: SOFT, margin: [0, 2, 0, 0] }),
    ],
  };
}

function drawn({ svg }: Drawing, width: number): Content {
  return { svg, width, margin: [0, 2, 0, 2] };
}

function chain(steps: readonly Fact[]): Content {
  return {
    stack: steps.map(({ label, value }, i) => ({
      unbreakable: true,
      columnGap: 8,
      margin: [0, 2, 0, 4] as [number, number, number, number],
      columns: [
        { width: 16, text: String(i + 1), bold: true, fontSize: 12, alignment: 'right' as const },
        [words(label, { fontSize: 8, bold: true, color: SOFT }), words(value)],
      ],
    })),
  };
}

function cards(all: readonly Card[]): Content {
  const across = Math.min(all.length, 3);
  const rows: Content[] = [];
  for (let at = 0; at < all.length; at += across) {
    const some = all.slice(at, at + across);
    const fill = Array.from(
      { length: across - some.length },
      (): TableCell => ({ text: '', border: [false, false, false, false] }),
    );
    rows.push({
      margin: [0, 4, 0, 4],
      table: {
        widths: Array.from({ length: across }, () => '*'),
        dontBreakRows: true,
        body: [[...some.map(card), ...fill]],
      },
      layout: {
        hLineColor: () => INK,
        vLineColor: () => LINE,
        hLineWidth: (i) => (i === 0 ? 2 : 0.5),
        vLineWidth: () => 0.5,
        paddingLeft: () => 8,
        paddingRight: () => 8,
        paddingTop: () => 7,
        paddingBottom: () => 7,
      },
    });
  }
  return { stack: rows };
}

function card({ title, mark, figure, figureLabel, text, facts }: Card): TableCell {
  return {
    stack: [
      ...(mark === undefined ? [] : [words(mark.toLocaleUpperCase(), { bold: true, fontSize: 7.5 })]),
      words(title, { bold: true, fontSize: 11 }),
      words(figure, { bold: true, fontSize: 17, margin: [0, 2, 0, 0] }),
      words(figureLabel, { fontSize: 7.5, color: SOFT }),
      ...(text === undefined ? [] : [words(text, { margin: [0, 4, 0, 2] })]),
      factGrid(facts, 1),
    ],
  };
}

function chart({ drawing, table: figures }: Chart, width: number): Content {
  return { stack: [{ unbreakable: true, stack: [drawn(drawing, Math.min(width, 420))] }, table(figures)] };
}

function choose({ intro, choices, words: labels }: Choose): Content {
  return {
    stack: [
      words(intro, { margin: [0, 2, 0, 4] }),
      ...choices.flatMap(({ name, extras, variants }) => [
        words(name, { bold: true, margin: [0, 4, 0, 1] }),
        ...(extras.length === 0
          ? []
          : [
              words(labels.extras, { fontSize: 8, color: SOFT }),
              { ul: extras.map((extra) => words(`${extra.name}: ${extra.note}`, { fontSize: 8.5 })) },
            ]),
        ...variants.map(({ total, effect, answer }) => ({
          unbreakable: true,
          margin: [0, 2, 0, 2] as [number, number, number, number],
          stack: [
            { text: [{ text: printable(total), bold: true }, `  ${printable(effect)}`] },
            words(answer.replace('{name}', '______'), { fontSize: 8.5, color: SOFT }),
          ],
        })),
      ]),
    ],
  };
}

function sign(lines: readonly string[], width: number): Content {
  const half = width / 2 - 12;
  const rows: Content[] = [];
  for (let at = 0; at < lines.length; at += 2) {
    rows.push({
      columnGap: 24,
      columns: lines.slice(at, at + 2).map(
        (line): Column => ({
          width: half,
          stack: [rule(half, 0.7, { margin: [0, 26, 0, 2] }), words(line, { fontSize: 8, color: SOFT })],
        }),
      ),
    });
  }
  return { unbreakable: true, stack: rows };
}

function stepContent({ title, aside, facts, fields, cautions }: Step, width: number): Content {
  const box: Column = {
    width: 14,
    canvas: [{ type: 'rect', x: 0, y: 1, w: 9, h: 9, lineWidth: 0.9, lineColor: INK }],
  };
  const third = (width - 14 - 24) / 3;
  const lines: Content[] = [];
  for (let at = 0; at < fields.length; at += 3) {
    lines.push({
      columnGap: 12,
      margin: [0, 2, 0, 2],
      columns: [
        ...fields.slice(at, at + 3).map(
          ({ label, limit, filled }): Column => ({
            width: third,
            stack: [
              words(filled ?? ' ', { bold: true }),
              rule(third, 0.5),
              words(label, { fontSize: 8 }),
              ...(limit === '' ? [] : [words(limit, { fontSize: 7.5, color: SOFT })]),
            ],
          }),
        ),
      ],
    });
  }
  return {
    margin: [0, 5, 0, 3],
    columns: [
      box,
      {
        stack: [
          {
            columns: [
              words(title, { bold: true }),
              words(aside, { width: 'auto', alignment: 'right', color: SOFT }),
            ],
          },
          ...(facts.length > 0 ? [factGrid(facts, 2)] : []),
          ...cautions.map(({ text, authority }) =>
            words(`! ${text} ${authority}`.trim(), { fontSize: 8.5, italics: true, margin: [0, 1, 0, 1] }),
          ),
          ...lines,
        ],
      },
    ],
  };
}
