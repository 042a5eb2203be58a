/** The book that the editor has open: its documents, and marks in their text. */
import * as vscode from 'vscode';
import { eventually } from './suite.ts';

export function uriOf(path: string): vscode.Uri {
  return vscode.Uri.joinPath(vscode.workspace.workspaceFolders![0]!.uri, path);
}

export const JOB = 'jobs/J-1.job.yaml';

export async function open(path: string): Promise<vscode.TextEditor> {
  return vscode.window.showTextDocument(await vscode.workspace.openTextDocument(uriOf(path)));
}

/** The position right after the first occurrence of a text. */
export function after(document: vscode.TextDocument, text: string): vscode.Position {
  const at = document.getText().indexOf(text);
  if (at === -1) throw new Error(`"${text}" is not in ${document.fileName}:\n${document.getText()}`);
  return document.positionAt(at + text.length);
}

/** Inside the first occurrence of a text. */
export function inside(document: vscode.TextDocument, text: string): vscode.Position {
  return after(document, text).translate(0, -1);
}

export async function replace(editor: vscode.TextEditor, from: string, to: string): Promise<void> {
  const end = after(editor.document, from);
  const start = editor.document.positionAt(editor.document.offsetAt(end) - from.length);
  const done = await editor.edit((edit) => edit.replace(new vscode.Range(start, end), to));
  if (!done) throw new Error('The editor refused the edit.');
}

/** Takes back all that was typed since the file was saved. */
export async function revert(editor: vscode.TextEditor): Promise<void> {
  await vscode.window.showTextDocument(editor.document);
  await vscode.commands.executeCommand('workbench.action.files.revert');
}

export function codesOf(uri: vscode.Uri): string[] {
  return vscode.languages
    .getDiagnostics(uri)
    .map(({ code }) => String(typeof code === 'object' ? code.value : code));
}

export function untilCodes(uri: vscode.Uri, hold: (codes: readonly string[]) => boolean): Promise<string[]> {
  return eventually(() => {
    const codes = codesOf(uri);
    if (!hold(codes)) throw new Error(`The codes are: ${codes.join(', ') || 'none'}`);
    return codes;
  });
}
