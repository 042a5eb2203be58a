/** Writes the small shop book of the walkthrough into a folder. */
import * as vscode from 'vscode';

const FILES = [
  'shop.yaml',
  'catalog.parts.yaml',
  'work.labor.yaml',
  'families.units.yaml',
  'shop.rules.yaml',
  'local.jurisdiction.yaml',
  'shop.cases.yaml',
  'jobs/J-1.job.yaml',
] as const;
const FIRST_JOB = 'jobs/J-1.job.yaml';

export function startBook({ extensionUri }: vscode.ExtensionContext): vscode.Disposable {
  return vscode.commands.registerCommand('gearquill.startBook', async (given?: vscode.Uri) => {
    const folder = given ?? (await pickFolder());
    if (!folder) return;
    const there = await existing(folder);
    if (there.length > 0) {
      void vscode.window.showErrorMessage(
        vscode.l10n.t('Nothing was written: this folder has {0} already.', there.join(', ')),
      );
      return;
    }
    const edit = new vscode.WorkspaceEdit();
    for (const file of FILES) {
      const contents = await vscode.workspace.fs.readFile(
        vscode.Uri.joinPath(extensionUri, 'client/starter', file),
      );
      edit.createFile(vscode.Uri.joinPath(folder, file), { contents });
    }
    await vscode.workspace.applyEdit(edit);
    const job = vscode.Uri.joinPath(folder, FIRST_JOB);
    await vscode.window.showTextDocument(await vscode.workspace.openTextDocument(job));
  });
}

async function pickFolder(): Promise<vscode.Uri | undefined> {
  const folders = vscode.workspace.workspaceFolders ?? [];
  if (folders.length === 1) return folders[0]!.uri;
  if (folders.length > 1) return (await vscode.window.showWorkspaceFolderPick())?.uri;
  const open = vscode.l10n.t('Open Folder');
  const picked = await vscode.window.showInformationMessage(
    vscode.l10n.t('Open an empty folder first: the shop book is written into it.'),
    open,
  );
  if (picked === open) await vscode.commands.executeCommand('vscode.openFolder');
  return undefined;
}

async function existing(folder: vscode.Uri): Promise<string[]> {
  const there = await Promise.all(
    FILES.map(async (file) => {
      try {
        await vscode.workspace.fs.stat(vscode.Uri.joinPath(folder, file));
        return [file];
      } catch {
        return [];
      }
    }),
  );
  return there.flat();
}
