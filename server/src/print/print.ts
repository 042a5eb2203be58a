/** A job on paper: which sheet, in which form. The one door into printing for the command line and the editor. */
import type { Doc } from './doc.ts';
import { renderHtml } from './render/html.ts';
import { renderText } from './render/text.ts';
import { sheetOf } from './sheets/context.ts';
import { customerDoc } from './sheets/customer.ts';
import type { Source } from './source.ts';

export const SHEETS = {
  customer: 'what the owner reads and signs',
} as const;
export type SheetName = keyof typeof SHEETS;

export const FORMATS = {
  html: 'a page that stands by itself and prints as it is',
  text: 'plain text',
} as const;
export type Format = keyof typeof FORMATS;

export async function printJob(source: Source, sheet: SheetName, format: Format): Promise<string | Uint8Array> {
  const doc = await docFor(source, sheet);
  return format === 'html' ? renderHtml(doc) : renderText(doc);
}

async function docFor(source: Source, _sheet: SheetName): Promise<Doc> {
  const sheet = sheetOf(source);
  return customerDoc(sheet);
}
