/** Entry in the browser: the server is a worker of the page. */
import * as vscode from 'vscode';
import { LanguageClient } from 'vscode-languageclient/browser';
import { activateWith } from './activate.ts';

/** As the page has it; the rest of the client is compiled without the types of a page. */
declare const Worker: new (script: string) => Worker;

export async function activate(context: vscode.ExtensionContext): Promise<void> {
  // Read rather than named: a page may not start workers from where the extension lies.
  const script = await vscode.workspace.fs.readFile(
    vscode.Uri.joinPath(context.extensionUri, 'dist/web/server.js'),
  );
  const address = URL.createObjectURL(new Blob([script], { type: 'text/javascript' }));
  await activateWith(
    context,
    'client',
    (options) => new LanguageClient('gearquill', 'Gearquill', async () => new Worker(address), options),
  );
}
