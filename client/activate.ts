/** What the extension does, wherever it runs. */
import * as vscode from 'vscode';
import { testExplorer } from './cases.ts';
import { checkTask } from './check-task.ts';
import { codePages } from './code-pages.ts';
import { followKinds } from './languages.ts';
import { missingWork } from './missing.ts';
import { newCommands } from './new/commands.ts';
import { recordAnswer } from './paper/answer.ts';
import { printSheet } from './paper/print.ts';
import { preview } from './preview/panel.ts';
import { type MakeClient, Server } from './server.ts';
import { showUses } from './show-uses.ts';
import { startBook } from './start-book.ts';
import { statusBar } from './status.ts';
import { bookTree } from './tree.ts';
import { takePrices } from './upkeep/prices.ts';
import { bookReports } from './upkeep/reports.ts';

export async function activateWith(
  context: vscode.ExtensionContext,
  reads: 'disk' | 'client',
  make: MakeClient,
): Promise<void> {
  const server = new Server(make, reads);
  const setContext = (key: string, value: unknown) =>
    vscode.commands.executeCommand('setContext', `gearquill.${key}`, value);
  const lookForBook = async () => setContext('hasBook', await hasBook());
  const shops = vscode.workspace.createFileSystemWatcher('**/shop.yaml', false, true, false);
  context.subscriptions.push(
    server,
    shops,
    shops.onDidCreate(lookForBook),
    shops.onDidDelete(lookForBook),
    server.onStateChanged((state) => setContext('state', state)),
    followKinds(hasBook),
    statusBar(server),
    bookTree(server),
    missingWork(server),
    preview(context, server),
    testExplorer(server),
    checkTask(server),
    codePages(server),
    newCommands(server),
    startBook(context),
    takePrices(server),
    bookReports(context, server),
    printSheet(context, server),
    recordAnswer(context, server),
    showUses(),
    vscode.commands.registerCommand('gearquill.restartServer', () => server.restart()),
    vscode.commands.registerCommand('gearquill.showLog', () => server.log.show()),
    vscode.commands.registerCommand('gearquill.getStarted', () =>
      vscode.commands.executeCommand(
        'workbench.action.openWalkthrough',
        `${context.extension.id}#firstJob`,
        false,
      ),
    ),
  );
  void setContext('active', true);
  void setContext('state', server.state);
  void lookForBook();
  await server.start();
}

async function hasBook(): Promise<boolean> {
  const found = await vscode.workspace.findFiles('**/shop.yaml', '**/node_modules/**', 1);
  return found.length > 0;
}
