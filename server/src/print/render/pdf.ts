/**
 * A paper as PDF, set by pdfmake with the fonts that it brings: no browser is needed, and the same paper gives the same
 * bytes on every machine.
 */
import pdfmake from 'pdfmake';
// @ts-expect-error the package has no types for its list of fonts
import fonts from 'pdfmake/fonts/Roboto.js';
import type { Content, TDocumentDefinitions, TFontDictionary } from 'pdfmake/interfaces.js';
import type { Doc } from '../doc.ts';
import { INK } from '../draw/svg.ts';
import { block } from './pdf-blocks.ts';
import { factGrid, printable, rule, SOFT, words } from './pdf-parts.ts';

const FONTS = fonts as TFontDictionary;
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
      title: printable(doc.title),
      author: printable(doc.head.shop),
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
        { text: printable(doc.foot), fontSize: 7.5, color: SOFT },
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
              { text: `${printable(top.what)} `, bold: true, fontSize: 24 },
              { text: printable(top.number), fontSize: 24, color: SOFT },
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
