/** A job on paper, as the editor asks for it. */
import type { BookFile } from '../../book/file.ts';
import type { Host } from '../../book/host.ts';
import { resolve } from '../../book/paths.ts';
import type { Estimates } from '../../estimate/estimates.ts';
import { FORMATS, type Format, formatsOf, printJob, SHEETS, type SheetName } from '../../print/print.ts';
import { base64 } from '../../print/render/bytes.ts';
import { sourceOf } from '../../print/source.ts';
import { Refusal } from '../edit.ts';

/** What can be printed of a job. */
export interface PapersView {
  readonly sheets: readonly { readonly sheet: SheetName; readonly formats: readonly Format[] }[];
  /** Those that have an id. */
  readonly options: readonly { readonly id: string; readonly name: string }[];
  readonly chosen: string | null;
}

export interface PrintAsked {
  readonly uri: string;
  readonly sheet: SheetName;
  readonly format: Format;
  /** Of sheets about one option: another than the chosen one. */
  readonly option?: string | undefined;
  /** It is looked at where no video lies beside it. */
  readonly alone?: boolean | undefined;
  /** Of a PDF. */
  readonly paper?: 'letter' | 'a4' | undefined;
}

export interface Printed {
  /** For a file: `J-1042-customer.html`. */
  readonly name: string;
  /** The text of the paper, or the bytes of a PDF in base64. */
  readonly content: { readonly text: string } | { readonly base64: string };
  /** A file that the page plays from beside it. */
  readonly beside?: string | undefined;
}

export function papersView(estimates: Estimates, file: BookFile): PapersView | undefined {
  const estimate = estimates.of(file);
  if (!estimate) return undefined;
  return {
    sheets: (Object.keys(SHEETS) as SheetName[]).map((sheet) => ({ sheet, formats: formatsOf(sheet) })),
    options: estimate.options.flatMap(({ id, name }) => (id === undefined ? [] : [{ id, name }])),
    chosen: estimate.chosen?.id ?? null,
  };
}

/** Refuses what is no job, and a sheet, form or option that is not there. */
export async function printed(
  estimates: Estimates,
  file: BookFile,
  { sheet, format, option, paper, alone = false }: PrintAsked,
  read: Host['read'],
): Promise<Printed> {
  const found = sourceOf(estimates, file, read);
  const source = found && alone ? { ...found, hasVideo: false } : found;
  if (!source) throw new Refusal('Only jobs are printed. Open a job, and ask again.');
  if (!Object.hasOwn(SHEETS, sheet) || !Object.hasOwn(FORMATS, format) || !formatsOf(sheet).includes(format))
    throw new Refusal(`There is no ${sheet} sheet as ${format}.`);
  const { estimate } = source;
  if (option !== undefined && !estimate.options.some(({ id }) => id === option))
    throw new Refusal(`The job has no option "${option}" any more.`);
  const made = await printJob(source, sheet, format, { option, paper });
  const id = (estimate.job.id ?? 'job').replaceAll(/[^\p{L}\p{N}_.-]+/gu, '-').replace(/^\.+/, '');
  const { video } = estimate.job;
  const plays = format === 'html' && sheet === 'customer' && video !== undefined && source.hasVideo;
  return {
    ...(plays && { beside: resolve(file.uri, video) }),
    name: `${id}-${sheet}.${format === 'text' ? 'txt' : format}`,
    content: typeof made === 'string' ? { text: made } : { base64: base64(made) },
  };
}
