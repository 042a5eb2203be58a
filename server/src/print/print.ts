/** A job on paper: which sheet, in which form. The one door into printing for the command line and the editor. */
import type { ExchangedEstimate } from '../../../schemas/exchange/estimate.ts';
import { estimateCsv } from './csv.ts';
import type { Doc } from './doc.ts';
import { estimateJson } from './json.ts';
import { renderHtml } from './render/html.ts';
import { renderText } from './render/text.ts';
import { benchDoc } from './sheets/bench.ts';
import { optionFor, type Sheet, sheetOf } from './sheets/context.ts';
import { customerDoc } from './sheets/customer.ts';
import { insideDoc } from './sheets/inside.ts';
import { invoiceDoc } from './sheets/invoice.ts';
import { orderDoc } from './sheets/order.ts';
import { talkDoc } from './sheets/talk.ts';
import type { Source } from './source.ts';
import { chapters, marksOf } from './video.ts';

/** What can be printed. The first three lines of the list never show what the shop pays. */
export const SHEETS = {
  customer: 'the estimate as the owner reads and signs it',
  invoice: 'the bill, held against the estimate and what was agreed to',
  talk: 'what to film and to say for each finding',
  bench: 'the work order: operations in working order, records, cautions',
  order: 'parts by supplier, with cores to send back; shows costs',
  inside: 'cost, gross profit, effective rate; shows costs',
} as const;
export type SheetName = keyof typeof SHEETS;

export const FORMATS = {
  html: 'one file that needs nothing else, for a screen and for paper',
  pdf: 'for paper',
  text: 'plain text',
  csv: 'the figures, for a spreadsheet (customer only)',
  json: 'the figures, for other systems (customer only)',
  vtt: 'chapters of the recorded video (talk only)',
} as const;
export type Format = keyof typeof FORMATS;

/** The forms that a sheet has. */
export function formatsOf(sheet: SheetName): readonly Format[] {
  if (sheet === 'customer') return ['html', 'pdf', 'text', 'csv', 'json'];
  return sheet === 'talk' ? ['html', 'pdf', 'text', 'vtt'] : ['html', 'pdf', 'text'];
}

export interface PrintChoice {
  /** Of sheets about one option: another than the chosen one. */
  readonly option?: string | undefined;
  /** Of an invoice: the estimate as it was handed over. */
  readonly against?: ExchangedEstimate | undefined;
  /** Of a PDF; a page fits both when it is printed from a browser. */
  readonly paper?: 'letter' | 'a4' | undefined;
}

/** Text, or the bytes of a PDF. The same job gives the same paper, byte for byte. */
export async function printJob(
  source: Source,
  sheet: SheetName,
  format: Format,
  choice: PrintChoice = {},
): Promise<string | Uint8Array> {
  if (!formatsOf(sheet).includes(format)) throw new RangeError(`There is no ${format} of the ${sheet} sheet`);
  if (format === 'csv') return estimateCsv(source.estimate);
  if (format === 'json') return `${JSON.stringify(estimateJson(source.estimate), null, 2)}\n`;
  if (format === 'vtt')
    return chapters(marksOf(source.estimate, (id) => source.catalog.finding(id)?.name ?? id));
  const doc = await docFor(sheetOf(source, sheet), sheet, choice);
  if (format === 'html') return renderHtml(doc);
  if (format === 'text') return renderText(doc);
  // Only where it is asked for: it brings fonts and a layout engine.
  const { renderPdf } = await import('./render/pdf.ts');
  return renderPdf(doc, choice.paper ?? 'letter');
}

async function docFor(sheet: Sheet, name: SheetName, { option: id, against }: PrintChoice): Promise<Doc> {
  const option = optionFor(sheet, id);
  if (!option) throw new RangeError(`There is no option ${id}`);
  switch (name) {
    case 'customer':
      return customerDoc(sheet);
    case 'invoice':
      return invoiceDoc(sheet, option, against);
    case 'talk':
      return talkDoc(sheet, option);
    case 'bench':
      return benchDoc(sheet, option);
    case 'order':
      return orderDoc(sheet, option);
    case 'inside':
      return insideDoc(sheet);
  }
}
