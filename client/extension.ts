/** Entry on the desktop and on remote machines: the server is a process beside the editor. */
import * as vscode from 'vscode';
import { LanguageClient, TransportKind } from 'vscode-languageclient/node';
import { activateWith } from './activate.ts';

export async function activate(context: vscode.ExtensionContext): Promise<void> {
  const module = context.asAbsolutePath('dist/server.cjs');
  const onDisk = (vscode.workspace.workspaceFolders ?? []).every(({ uri }) => uri.scheme === 'file');
  await activateWith(context, onDisk ? 'disk' : 'client', (options) => {
    const transport = TransportKind.ipc;
    return new LanguageClient(
      'gearquill',
      'Gearquill',
      { run: { module, transport }, debug: { module, transport, options: { execArgv: ['--inspect=6009'] } } },
      options,
    );
  });
}
