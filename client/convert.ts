/** Places of the protocol as the editor's. */
import * as vscode from 'vscode';
import type { Location, Range } from 'vscode-languageserver-types';

export function toRange({ start, end }: Range): vscode.Range {
  return new vscode.Range(start.line, start.character, end.line, end.character);
}

export async function openPlace(
  { uri, range }: Location,
  options: vscode.TextDocumentShowOptions = {},
): Promise<void> {
  const document = await vscode.workspace.openTextDocument(vscode.Uri.parse(uri));
  const at = toRange(range);
  await vscode.window.showTextDocument(document, {
    ...options,
    selection: new vscode.Range(at.start, at.start),
  });
}
