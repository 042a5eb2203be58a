/** A folder on disk as the texts of a book. The only file of this layer that touches a file system. */
import { readdirSync, readFileSync, realpathSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import type { Host } from './host.ts';

/** A text file larger than this is not read; 100,000 parts are a tenth of it. */
const LARGEST_TEXT = 256_000_000;
const SKIPPED = new Set(['node_modules', 'dist']);

export const DISK: Host = {
  read(uri) {
    try {
      return readFileSync(fileURLToPath(uri));
    } catch {
      return undefined;
    }
  },
  size(uri) {
    try {
      const stat = statSync(fileURLToPath(uri));
      return stat.isFile() ? stat.size : undefined;
    } catch {
      return undefined;
    }
  },
};

export interface Unread {
  readonly path: string;
  readonly message: string;
}

/** A folder's URI, with a slash at its end. */
export function folderUri(path: string): string {
  const uri = pathToFileURL(path).href;
  return uri.endsWith('/') ? uri : `${uri}/`;
}

/** The YAML files below a folder. Links that lead out of it are not followed. */
export function readFolder(path: string): { texts: Map<string, string>; unread: Unread[] } {
  const texts = new Map<string, string>();
  const unread: Unread[] = [];
  const root = realpathSync(path);
  const walk = (folder: string): void => {
    for (const entry of readdirSync(folder, { withFileTypes: true })) {
      const at = join(folder, entry.name);
      if (entry.name.startsWith('.') || SKIPPED.has(entry.name)) continue;
      if (entry.isDirectory()) walk(at);
      else if (/\.ya?ml$/i.test(entry.name)) readOne(at, entry.isSymbolicLink());
    }
  };
  const readOne = (at: string, link: boolean): void => {
    const read = readText(at, link ? root : undefined);
    if ('text' in read) texts.set(pathToFileURL(at).href, read.text);
    else unread.push({ path: at, message: read.message });
  };
  walk(root);
  return { texts, unread };
}

/** The text of a file as UTF-8, or why there is none. `within`: where a link may lead. */
export function readText(path: string, within?: string): { text: string } | { message: string } {
  try {
    if (within !== undefined && !`${realpathSync(path)}/`.startsWith(`${within}/`)) {
      return { message: 'is a link that leads out of the shop book; it was not read.' };
    }
    if (statSync(path).size > LARGEST_TEXT) return { message: 'is larger than 256 MB; it was not read.' };
    const bytes = readFileSync(path);
    return { text: new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes) };
  } catch (error) {
    if (error instanceof TypeError) return { message: 'is not UTF-8 text; save it as UTF-8.' };
    return { message: `cannot be read: ${(error as NodeJS.ErrnoException).code ?? String(error)}.` };
  }
}
