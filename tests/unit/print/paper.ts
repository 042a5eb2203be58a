/** Papers of the sample book, and of small books written in a test. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { JSDOM } from 'jsdom';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { DISK, folderUri, readFolder } from '../../../server/src/book/disk.ts';
import type { BookFile } from '../../../server/src/book/file.ts';
import { Workspace } from '../../../server/src/book/workspace.ts';
import { Estimates } from '../../../server/src/estimate/estimates.ts';
import { type Source, sourceOf } from '../../../server/src/print/source.ts';

export const SAMPLE = join(import.meta.dirname, '../../../samples/quarrow-creek');

export interface Opened {
  readonly source: Source;
  readonly file: BookFile;
  readonly estimates: Estimates;
}

let texts: ReadonlyMap<string, string> | undefined;
let untouched: Workspace | undefined;

/** A job of the sample book; `edit` changes the text of any file first. */
export function sampleJob(id: string, edit?: (text: string, uri: string) => string): Opened {
  texts ??= readFolder(SAMPLE).texts;
  if (!edit) {
    untouched ??= loaded(texts);
    return opened(untouched, id);
  }
  return opened(loaded(new Map([...texts].map(([uri, text]) => [uri, edit(text, uri)]))), id);
}

export function sampleJobs(): string[] {
  texts ??= readFolder(SAMPLE).texts;
  untouched ??= loaded(texts);
  return untouched.books.flatMap((book) => [...book.registry.ids('job')]);
}

function loaded(files: ReadonlyMap<string, string>): Workspace {
  const workspace = new Workspace([folderUri(SAMPLE)], DISK);
  workspace.load(files);
  return workspace;
}

/** A job in a book given as files by name; pictures as bytes. */
export function smallBook(
  files: Readonly<Record<string, string>>,
  id: string,
  pictures: Readonly<Record<string, Uint8Array>> = {},
): Opened {
  const root = 'file:///shop/';
  const workspace = new Workspace([root], {
    read: (uri) => pictures[uri.slice(root.length)],
    size: (uri) => pictures[uri.slice(root.length)]?.length,
  });
  workspace.load(new Map(Object.entries(files).map(([name, text]) => [root + name, text])));
  return opened(workspace, id);
}

function opened(workspace: Workspace, id: string): Opened {
  for (const book of workspace.books) {
    const file = book.definition('job', id)?.facts.file;
    if (!file) continue;
    const estimates = new Estimates(book);
    return { source: sourceOf(estimates, file)!, file, estimates };
  }
  throw new Error(`No job ${id}`);
}

export function picture(name: string): Uint8Array {
  return readFileSync(join(SAMPLE, 'pictures', name));
}

export function pageOf(html: string): Document {
  return new JSDOM(html).window.document;
}

/** What a reader of the page reads, in one line. */
export function readable(page: Document): string {
  const copy = page.body.cloneNode(true) as HTMLElement;
  for (const one of copy.querySelectorAll('script, style')) one.remove();
  return (copy.textContent ?? '').replaceAll(/\s+/g, ' ');
}

/** The text of each page of a PDF. */
export async function pdfPages(bytes: Uint8Array): Promise<string[]> {
  const standardFontDataUrl = `${fileURLToPath(new URL('../../standard_fonts/', import.meta.resolve('pdfjs-dist/legacy/build/pdf.mjs')))}`;
  const pdf = await getDocument({ data: bytes.slice(), verbosity: 0, standardFontDataUrl }).promise;
  const pages: string[] = [];
  for (let at = 1; at <= pdf.numPages; at++) {
    const content = await (await pdf.getPage(at)).getTextContent();
    pages.push(
      content.items.map((item) => ('str' in item ? item.str + (item.hasEOL ? '\n' : '') : '')).join(''),
    );
  }
  return pages;
}
