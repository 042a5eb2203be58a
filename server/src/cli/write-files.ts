/** Files of a book replaced on disk, so that each is the old one or the new one, whenever the work is cut off. */
import {
  closeSync,
  fchmodSync,
  fsyncSync,
  openSync,
  realpathSync,
  renameSync,
  rmSync,
  statSync,
  writeSync,
} from 'node:fs';
import { basename, dirname, join } from 'node:path';

/**
 * Puts new texts in place of files that are there. All are written out beside the old ones first, and reach the disk,
 * before the first takes its place: what can fail (no room, no permission) fails while every file is still the old
 * one. What a program that was cut off leaves beside a file begins with a dot, is not read as part of the book, and is
 * gone after the next run.
 */
export function replaceFiles(texts: ReadonlyMap<string, string>): void {
  const ready: { readonly from: string; readonly to: string }[] = [];
  try {
    for (const [path, text] of texts) {
      // A link stays a link: what it leads to is replaced.
      const to = realpathSync(path);
      const from = join(dirname(to), `.${basename(to)}.gearquill-new`);
      ready.push({ from, to });
      rmSync(from, { force: true });
      const file = openSync(from, 'wx');
      try {
        const bytes = Buffer.from(text, 'utf8');
        for (let at = 0; at < bytes.length; ) at += writeSync(file, bytes, at);
        fchmodSync(file, statSync(to).mode);
        fsyncSync(file);
      } finally {
        closeSync(file);
      }
    }
    for (const { from, to } of ready) renameSync(from, to);
  } catch (error) {
    for (const { from } of ready) rmSync(from, { force: true });
    throw error;
  }
  for (const folder of new Set(ready.map(({ to }) => dirname(to)))) syncFolder(folder);
}

/** So that the new names outlast a power cut; where a folder cannot be opened (Windows) the system sees to it. */
function syncFolder(path: string): void {
  try {
    const folder = openSync(path, 'r');
    fsyncSync(folder);
    closeSync(folder);
  } catch {}
}
