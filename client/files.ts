/** Reads the workspace for a server that cannot: in the browser, and in folders that are on no disk. */
import * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { toBase64 } from './bytes.ts';

const BOOK_FILES = '**/*.{yaml,yml,csv,tsv,txt}';
const SKIPPED = '**/{node_modules,dist,.*}/**';
/** A larger file is not read. */
const LARGEST = 256_000_000;
const LARGEST_PICTURE = 60_000_000;

export function readForServer(client: BaseLanguageClient): vscode.Disposable {
  return vscode.Disposable.from(
    client.onRequest<unknown, void>('gearquill/readFolder', ({ uri }: { uri: string }) =>
      readFolder(vscode.Uri.parse(uri)),
    ),
    client.onRequest<unknown, void>('gearquill/readFile', async ({ uri }: { uri: string }) => {
      const text = await readText(vscode.Uri.parse(uri));
      return text === undefined ? { missing: true } : { text };
    }),
    client.onRequest<unknown, void>('gearquill/sizes', ({ uris }: { uris: readonly string[] }) =>
      Promise.all(uris.map((uri) => sizeOf(vscode.Uri.parse(uri)))),
    ),
    client.onRequest<unknown, void>('gearquill/bytes', ({ uris }: { uris: readonly string[] }) =>
      Promise.all(uris.map((uri) => bytesOf(vscode.Uri.parse(uri)))),
    ),
  );
}

async function readFolder(folder: vscode.Uri): Promise<{ files: { uri: string; text: string }[] }> {
  const pattern = new vscode.RelativePattern(folder, BOOK_FILES);
  const uris = await vscode.workspace.findFiles(pattern, SKIPPED);
  const read = await Promise.all(
    uris.map(async (uri) => ({ uri: uri.toString(), text: await readText(uri) })),
  );
  return { files: read.flatMap(({ uri, text }) => (text === undefined ? [] : [{ uri, text }])) };
}

/** As UTF-8; undefined when it is not there, too large, or no such text. */
async function readText(uri: vscode.Uri): Promise<string | undefined> {
  try {
    const bytes = await vscode.workspace.fs.readFile(uri);
    if (bytes.length > LARGEST) return undefined;
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    return undefined;
  }
}

/** In base64; null when it is not there, or larger than a picture is. */
async function bytesOf(uri: vscode.Uri): Promise<string | null> {
  const size = await sizeOf(uri);
  if (size === null || size > LARGEST_PICTURE) return null;
  try {
    return toBase64(await vscode.workspace.fs.readFile(uri));
  } catch {
    return null;
  }
}

async function sizeOf(uri: vscode.Uri): Promise<number | null> {
  try {
    const stat = await vscode.workspace.fs.stat(uri);
    return stat.type & vscode.FileType.File ? stat.size : null;
  } catch {
    return null;
  }
}
