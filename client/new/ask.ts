/** The questions of the "new" commands. */
import * as vscode from 'vscode';
import type { RefKind } from '../../schemas/declare.ts';
import type { Server } from '../server.ts';
import { isPlainId } from './text.ts';

/** The writer has pressed Escape. */
export class Cancelled extends Error {}

/** The file the book is asked about: two shops in one workspace have two books. */
function here(): { uri?: string } {
  const uri = vscode.window.activeTextEditor?.document.uri.toString();
  return uri === undefined ? {} : { uri };
}

export async function entriesOf(server: Server, kind: RefKind, query = '', most = 1000) {
  return (await server.ask('gearquill/entries', { ...here(), kind, query, most })) ?? [];
}

/** An id of the book, picked by name. Undefined for "none", and when the book has no such thing. */
export async function pickEntry(
  server: Server,
  kind: RefKind,
  question: string,
  mayBeNone: boolean,
): Promise<string | undefined> {
  const entries = await entriesOf(server, kind);
  if (entries.length === 0) return undefined;
  const none = { label: vscode.l10n.t('None'), description: '', id: undefined };
  const items = [
    ...(mayBeNone ? [none] : []),
    ...entries.map(({ id, name }) => ({ label: id, description: name ?? '', id })),
  ];
  const picked = await vscode.window.showQuickPick(items, {
    placeHolder: question,
    matchOnDescription: true,
  });
  if (!picked) throw new Cancelled();
  return picked.id;
}

/** An id that nothing of its kind has yet. */
export async function askId(
  server: Server,
  kind: RefKind,
  title: string,
  value: string,
  example: string,
): Promise<string> {
  const taken = async (id: string) => (await entriesOf(server, kind, id, 50)).some((one) => one.id === id);
  const id = await vscode.window.showInputBox({
    title,
    value,
    prompt: vscode.l10n.t('Its id, for example {0}', example),
    validateInput: async (text) => {
      if (text === '') return undefined;
      if (!isPlainId(text))
        return vscode.l10n.t('Letters, digits, points, dashes and strokes only; for example {0}.', example);
      return (await taken(text)) ? vscode.l10n.t('{0} is there already.', text) : undefined;
    },
  });
  if (!id) throw new Cancelled();
  return id;
}

/** A file of the book with this suffix: the only one, or picked; a new one when there is none. */
export async function pickFile(suffix: string, question: string): Promise<vscode.Uri> {
  const found = await vscode.workspace.findFiles(`**/*${suffix}`, '**/node_modules/**');
  const active = vscode.window.activeTextEditor?.document.uri;
  const same = found.find((uri) => uri.toString() === active?.toString());
  if (same) return same;
  if (found.length === 1) return found[0]!;
  if (found.length === 0) return createFile(suffix);
  const items = found
    .map((uri) => ({ label: vscode.workspace.asRelativePath(uri), uri }))
    .sort((a, b) => a.label.localeCompare(b.label));
  const picked = await vscode.window.showQuickPick(items, { placeHolder: question });
  if (!picked) throw new Cancelled();
  return picked.uri;
}

async function createFile(suffix: string): Promise<vscode.Uri> {
  const kind = suffix.split('.')[1]!;
  const uri = vscode.Uri.joinPath(await bookFolder(), `${kind}/shop${suffix}`);
  const edit = new vscode.WorkspaceEdit();
  edit.createFile(uri, { contents: new TextEncoder().encode(`kind: ${kind}\n`), ignoreIfExists: true });
  await vscode.workspace.applyEdit(edit);
  return uri;
}

/** The folder of the shop nearest to the file at hand; the only shop's, or the first folder. */
export async function bookFolder(): Promise<vscode.Uri> {
  const shops = await vscode.workspace.findFiles('**/shop.yaml', '**/node_modules/**');
  const active = vscode.window.activeTextEditor?.document.uri.path ?? '';
  const folders = shops
    .map((uri) => vscode.Uri.joinPath(uri, '..'))
    .sort(
      (a, b) =>
        Number(active.startsWith(b.path)) - Number(active.startsWith(a.path)) ||
        a.path.length - b.path.length,
    );
  const folder = folders[0] ?? vscode.workspace.workspaceFolders?.[0]?.uri;
  if (!folder) throw new Cancelled();
  return folder;
}
