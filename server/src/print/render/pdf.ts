/**
 * A paper as PDF, set by pdfmake with the fonts that it brings: no browser is needed, and the same paper gives the same
 * bytes on every machine.
 */
import pdfmake from 'pdfmake';
// @ts-expect-error the package has no types for its list of fonts
import fonts from 'pdfmake/fonts/Roboto.js';
import type {
  Column,
  Content,
  CustomTableLayout,
  TableCell,
  TDocumentDefinitions,
  TFontDictionary,
} from 'pdfmake/interfaces.js';
import { leavesOf } from '../carry.ts';
import type {
  Block,
  Card,
  Chart,
  Choose,
  Doc,
  Drawing,
  Fact,
  Finding,
  Picture,
  Row,
  Step,
  Table,
} from '../doc.ts';
import { INK } from '../draw/svg.ts';
import { base64 } from './bytes.ts';
import { clean } from './markup.ts';

const FONTS = fonts as TFontDictionary;
const SOFT = '#444c60';
const LINE = '#b5b9c6';
const MARGIN = 42;
const WIDTH = { letter: 612 - 2 * MARGIN, a4: 595 - 2 * MARGIN };

export async function renderPdf(doc: Doc, paper: 'letter' | 'a4'): Promise<Uint8Array> {
  const width = WIDTH[paper];
  const [before = '', middle = '', after = ''] = doc.pageLabel.split(/\{pages?\}/);
  const day = new Date(`${doc.day}T12:00:00Z`);
  const definition: TDocumentDefinitions = {
    pageSize: paper === 'a4' ? 'A4' : 'LETTER',
    pageMargins: [MARGIN, MARGIN, MARGIN, 54],
    info: {
      title: clean(doc.title),
      author: clean(doc.head.shop),
      creationDate: day,
      modDate: day,
      producer: 'Gearquill',
      creator: 'Gearquill',
    },
    language: doc.lang,
    defaultStyle: { font: 'Roboto', fontSize: 9.5, lineHeight: 1.25, color: INK },
    // A heading at the foot of a page goes over with what it heads.
    pageBreakBefore: (node, pages) =>
      node.headlineLevel !== undefined &&
      !pages.getFollowingNodesOnPage().some((one) => one.headlineLevel === undefined && isSeen(one)),
    footer: (page, pages) => ({
      margin: [MARGIN, 18, MARGIN, 0],
      columns: [
        { text: clean(doc.foot), fontSize: 7.5, color: SOFT },
        { text: `${before}${page}${middle}${pages}${after}`, fontSize: 7.5, color: SOFT, alignment: 'right' },
      ],
    }),
    content: [...head(doc, width), ...doc.blocks.map((one) => block(one, width)), ...notice(doc)],
  };
  pdfmake.setFonts(FONTS);
  // What a paper needs is in it: nothing is fetched, whatever a text may look like.
  pdfmake.setUrlAccessPolicy(() => false);
  pdfmake.setLocalAccessPolicy((path) => Object.values(FONTS.Roboto ?? {}).includes(path));
  return new Uint8Array(await pdfmake.createPdf(definition).getBuffer());
}

function isSeen(node: object): boolean {
  return ['text', 'table', 'image', 'svg'].some(
    (kind) => kind in node && node[kind as keyof typeof node] !== undefined,
  );
}

function words(text: string, more: object = {}): Content {
  return { text: clean(text), ...more };
}

function rule(width: number, weight: number, more: object = {}): Content {
  return {
    canvas: [{ type: 'line', x1: 0, y1: 0, x2: width, y2: 0, lineWidth: weight, lineColor: INK }],
    ...more,
  };
}

function notice(doc: Doc): Content[] {
  return doc.notice === undefined
    ? []
    : [words(doc.notice, { fontSize: 8, color: SOFT, margin: [0, 8, 0, 0] })];
}

function head(doc: Doc, width: number): Content[] {
  const { head: top } = doc;
  return [
    rule(width, 4),
    rule(width, 0.7, { margin: [0, 3, 0, 8] }),
    {
      columns: [
        [
          words(top.shop, { bold: true, fontSize: 13 }),
          {
            margin: [0, 8, 0, 0],
            text: [
              { text: `${clean(top.what)} `, bold: true, fontSize: 24 },
              { text: clean(top.number), fontSize: 24, color: SOFT },
            ],
          },
        ],
        {
          width: 190,
          stack: top.address.map((line) => words(line)),
          fontSize: 8.5,
          color: SOFT,
          alignment: 'right',
        },
      ],
    },
    ...notice(doc),
    factGrid(top.facts, 4, [0, 10, 0, 4]),
  ];
}

/** Facts side by side, so many in a row. */
function factGrid(
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

function block(one: Block, width: number): Content {
  switch (one.block) {
    case 'section': {
      const [first, ...rest] = one.blocks;
      const title: Content[] = [
        rule(width, 1.4, { margin: [0, 16, 0, 4] }),
        words(one.title, { bold: true, fontSize: 14, headlineLevel: 1, margin: [0, 0, 0, 4] }),
      ];
      // A title stays with what follows, unless that is longer than a page.
      const whole = first && !isLong(first);
      return {
        stack: [
          whole ? { unbreakable: true, stack: [...title, block(first, width)] } : { stack: title },
          ...(first && !whole ? [block(first, width)] : []),
          ...rest.map((inner) => block(inner, width)),
        ],
      };
    }
    case 'part':
      return {
        margin: [0, 8, 0, 0],
        stack: [
          words(one.title, { bold: true, fontSize: 11, headlineLevel: 2, margin: [0, 0, 0, 3] }),
          ...one.blocks.map((inner) => block(inner, width)),
        ],
      };
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

const LAYOUT: CustomTableLayout = {
  hLineWidth: (i, node) => (i === 0 || i === node.table.body.length ? 0 : i === 1 ? 0.9 : 0.4),
  vLineWidth: () => 0,
  hLineColor: (i) => (i === 1 ? INK : LINE),
  paddingLeft: (i) => (i === 0 ? 0 : 8),
  paddingRight: () => 0,
  paddingTop: () => 2.5,
  paddingBottom: () => 2.5,
};

function table(one: Table): Content {
  const leaves = leavesOf(one);
  return {
    stack: leaves
      .map(
        (leaf, i): Content => ({
          ...(i < leaves.length - 1 ? { pageBreak: 'after' as const } : {}),
          ...(i === 0 && leaves.length > 1 ? { pageBreak: 'before' as const } : {}),
          margin: [0, 3, 0, 3],
          layout: LAYOUT,
          table: {
            headerRows: 1,
            dontBreakRows: true,
            keepWithHeaderRows: 1,
            widths: one.columns.map(({ narrow }, column) => (column === 0 ? '*' : narrow ? 'auto' : 'auto')),
            body: [
              one.columns.map(
                ({ title, align }): TableCell => ({
                  text: clean(title),
                  alignment: align,
                  fontSize: 8,
                  color: SOFT,
                }),
              ),
              ...[leaf.brought, ...leaf.rows, leaf.carried].flatMap((row) =>
                row ? [rowCells(row, one)] : [],
              ),
            ],
          },
        }),
      )
      .flatMap((content, i) =>
        i === 0 && leaves.length > 1
          ? [{ text: '', pageBreak: 'before' as const }, without(content)]
          : [content],
      ),
  };
}

/** The first leaf breaks before itself by an empty line, because one node has one break. */
function without(content: Content): Content {
  return { ...(content as object), pageBreak: 'after' } as Content;
}

function rowCells(row: Row, { columns }: Table): TableCell[] {
  if (row.as === 'group')
    return [
      {
        text: clean(row.cells[0] ?? ''),
        bold: true,
        fontSize: 10.5,
        colSpan: columns.length,
        margin: [0, 5, 0, 0],
      },
      ...columns.slice(1).map((): TableCell => ({ text: '' })),
    ];
  const total = row.as === 'total';
  const style = total ? { bold: true, fontSize: 11 } : {};
  const summed = row.as !== 'row';
  const label = summed && columns.length > 2 ? ({ alignment: 'right' } as const) : {};
  const first: TableCell = {
    stack: [
      {
        text: [
          { text: clean(row.cells[0] ?? ''), ...style },
          ...(row.aside === undefined ? [] : [{ text: `  ${clean(row.aside)}`, color: SOFT, fontSize: 8.5 }]),
        ],
      },
      ...(row.note === undefined ? [] : [words(row.note, { fontSize: 8, color: SOFT })]),
    ],
    ...label,
  };
  return [
    first,
    ...columns.slice(1).map(
      ({ align }, i): TableCell => ({
        text: clean(row.cells[i + 1] ?? ''),
        alignment: align,
        noWrap: align === 'right',
        ...style,
      }),
    ),
  ];
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
          { text: clean(one.title), bold: true, fontSize: 12 },
          { text: `   ${clean(one.verdict)}`, fontSize: 9, color: SOFT },
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
      { image: `data:${image.mime};base64,${base64(image.bytes)}`, fit: [width, 190] },
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
            { text: [{ text: clean(total), bold: true }, `  ${clean(effect)}`] },
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
