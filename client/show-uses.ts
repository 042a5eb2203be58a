/** The command behind "used by 3 jobs" above an entry. */
import * as vscode from 'vscode';

interface JsonPosition {
  readonly line: number;
  readonly character: number;
}

export function showUses(): vscode.Disposable {
  return vscode.commands.registerCommand('gearquill.showUses', async (uri: string, at: JsonPosition) => {
    const document = vscode.Uri.parse(uri);
    const position = new vscode.Position(at.line, at.character);
    const uses: vscode.Location[] = await vscode.commands.executeCommand(
      'vscode.executeReferenceProvider',
      document,
      position,
    );
    const elsewhere = uses.filter(
      (one) => one.uri.toString() !== document.toString() || !one.range.contains(position),
    );
    await vscode.commands.executeCommand('editor.action.showReferences', document, position, elsewhere);
  });
}
