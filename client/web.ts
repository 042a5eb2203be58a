/** Entry in the browser: the server is a worker of the page. */
import * as vscode from 'vscode';
import { LanguageClient } from 'vscode-languageclient/browser';
import { activateWith } from './activate.ts';

/** As the page has it; the rest of the client is compiled without the types of a page. */
declare const Worker: new (script: string) => Worker;

export async function activate(context: vscode.ExtensionContext): Promise<void> {
  const script = vscode.Uri.joinPath(context.extensionUri, 'dist/web/server.js');
  await activateWith(context, 'client', (options) => {
    const worker = new Worker(script.toString(true));
    return new LanguageClient('gearquill', 'Gearquill', worker, options);
  });
}
