/** A folder on disk as the texts of a book. The only file of this layer that touches a file system. */
import { readdirSync, readFileSync, realpathSync, type Stats, statSync } from 'node:fs';
import { join, sep } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import type { Host } from './host.ts';
import { canonical } from './paths.ts';

/** A text file larger than this is not read; 100,000 parts are a tenth of it. */
const LARGEST_TEXT = 256_000_000;
const SKIPPED = new Set(['node_modules', 'dist']);

export const DISK: Host = {
  read(uri, within) {
    try {
      const path = fileURLToPath(uri);
      return statInside(path, fileURLToPath(within)) && readFileSync(path);
    } catch {
      return undefined;
    }
  },
  size(uri, within) {
    try {
      return statInside(fileURLToPath(uri), fileURLToPath(within))?.size;
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
  const uri = uriOf(path);
  return uri.endsWith('/') ? uri : `${uri}/`;
}

/** The YAML files below a folder. Links that lead out of it are not followed, nor links to folders. */
export function readFolder(path: string): { texts: Map<string, string>; unread: Unread[] } {
  const texts = new Map<string, string>();
  const unread: Unread[] = [];
  const walk = (folder: string): void => {
    for (const entry of entriesOf(folder, unread)) {
      const at = join(folder, entry.name);
      if (entry.name.startsWith('.') || SKIPPED.has(entry.name)) continue;
      if (entry.isDirectory()) walk(at);
      else if (/\.ya?ml$/i.test(entry.name)) readOne(at);
    }
  };
  const readOne = (at: string): void => {
    const read = readText(at, path);
    if ('text' in read) texts.set(uriOf(at), read.text);
    else unread.push({ path: at, message: read.message });
  };
  walk(path);
  return { texts, unread };
}

/** The text of a file as UTF-8, or why there is none. `within`: the folder that a link may not lead out of. */
export function readText(path: string, within?: string): { text: string } | { message: string } {
  try {
    const stats = within === undefined ? fileAt(path) : statInside(path, within);
    if (!stats)
      return { message: 'is not a file of the shop book, or a link that leads out of it; it was not read.' };
    if (stats.size > LARGEST_TEXT) return { message: 'is larger than 256 MB; it was not read.' };
    const bytes = readFileSync(path);
    return { text: new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes) };
  } catch (error) {
    return { message: problemOf(error) };
  }
}

function entriesOf(folder: string, unread: Unread[]) {
  try {
    return readdirSync(folder, { withFileTypes: true });
  } catch (error) {
    unread.push({ path: folder, message: problemOf(error) });
    return [];
  }
}

function problemOf(error: unknown): string {
  const { code } = error as NodeJS.ErrnoException;
  if (code === 'ERR_ENCODING_INVALID_ENCODED_DATA') return 'is not UTF-8 text; save it as UTF-8.';
  return `cannot be read: ${code ?? String(error)}.`;
}

/** Pipes and devices are not files: reading one could wait forever. */
function fileAt(path: string): Stats | undefined {
  const stats = statSync(path);
  return stats.isFile() ? stats : undefined;
}

function statInside(path: string, within: string): Stats | undefined {
  const folder = realpathSync(within);
  const inside = realpathSync(path).startsWith(folder.endsWith(sep) ? folder : folder + sep);
  return inside ? fileAt(path) : undefined;
}

function uriOf(path: string): string {
  return canonical(pathToFileURL(path).href);
}
