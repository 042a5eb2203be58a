/** Entry in the browser: the server is a worker of the page. */
import * as vscode from 'vscode';
import { BrowserMessageReader, BrowserMessageWriter, LanguageClient } from 'vscode-languageclient/browser';
import { activateWith } from './activate.ts';

/** As the page has it; the rest of the client is compiled without the types of a page. */
declare const Worker: new (script: string) => ConstructorParameters<typeof BrowserMessageReader>[0];

export async function activate(context: vscode.ExtensionContext): Promise<void> {
  // Read rather than named: a page may not start workers from where the extension lies.
  const script = await vscode.workspace.fs.readFile(
    vscode.Uri.joinPath(context.extensionUri, 'dist/web/server.js'),
  );
  const address = URL.createObjectURL(new Blob([new Uint8Array(script)], { type: 'text/javascript' }));
  // Readers are made here: the editor puts a class of its own in the place of `Worker`, which the client does not know.
  const connect = async () => {
    const worker = new Worker(address);
    return { reader: new BrowserMessageReader(worker), writer: new BrowserMessageWriter(worker) };
  };
  await activateWith(
    context,
    'client',
    (options) => new LanguageClient('gearquill', 'Gearquill', connect, options),
  );
}
