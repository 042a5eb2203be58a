/** "Print a Sheet": for whom, and whether to look at it, save it, or open it in the browser. */
import * as vscode from 'vscode';
import type { PapersView, PrintAsked, Printed } from '../../server/src/features/paper/print.ts';
import type { PRINT } from '../../server/src/lsp/paper.ts';
import type { Format, SheetName } from '../../server/src/print/print.ts';
import { jobUri } from '../at-hand.ts';
import { fromBase64 } from '../bytes.ts';
import type { Server } from '../server.ts';
import { workShown } from '../work.ts';
import { Pages } from './pages.ts';
import { sheetWords, waysToPrint } from './words.ts';

const method: typeof PRINT = 'gearquill/print';

/** What is done with a sheet. */
export interface Way {
  readonly format: Format;
  readonly to: 'look' | 'browser' | 'file';
  readonly paper?: 'letter' | 'a4';
}

export function printSheet(context: vscode.ExtensionContext, server: Server): vscode.Disposable {
  const pages = new Pages();
  return vscode.Disposable.from(
    pages,
    vscode.commands.registerCommand('gearquill.printSheet', (given?: string | vscode.Uri) => {
      const uri = jobUri(given);
      if (uri) return print(context, server, pages, uri);
      void vscode.window.showInformationMessage(vscode.l10n.t('Open the job that is to be printed.'));
    }),
  );
}

async function print(
  context: vscode.ExtensionContext,
  server: Server,
  pages: Pages,
  uri: vscode.Uri,
): Promise<void> {
  const papers = await server.ask('gearquill/papers', { uri: uri.toString() });
  if (!papers) {
    void vscode.window.showWarningMessage(
      vscode.l10n.t(
        'This job cannot be printed now: it is in no shop book, or the language server does not run.',
      ),
    );
    return;
  }
  const sheet = await askSheet(papers);
  if (!sheet) return;
  const option = await askOption(papers, sheet);
  if (option === null) return;
  const way = await askWay(papers, sheet);
  if (!way) return;
  const { format, paper } = way;
  const asked: PrintAsked = { uri: uri.toString(), sheet, format, option, paper, alone: way.to === 'look' };
  const made = await workShown<Printed>(server, method, asked, { title: vscode.l10n.t('Printing') });
  if (!made) return;
  if (way.to === 'look') return pages.show(made.name, textOf(made));
  if (way.to === 'file') return save(uri, made);
  // The system's own browser opens it: outside the job's folder, so that no book and no commit picks it up.
  const file = vscode.Uri.joinPath(context.globalStorageUri, 'printed', made.name);
  await vscode.workspace.fs.writeFile(file, bytesOf(made));
  await layBeside(file, made);
  await vscode.env.openExternal(file);
}

async function askSheet({ sheets }: PapersView): Promise<SheetName | undefined> {
  const words = sheetWords();
  const picked = await vscode.window.showQuickPick(
    sheets.map(({ sheet }) => ({ ...words[sheet], sheet })),
    { placeHolder: vscode.l10n.t('Whom is it for?'), matchOnDetail: true },
  );
  return picked?.sheet;
}

/** Undefined: the one that was chosen, or there is only one. Null: Escape. */
async function askOption(papers: PapersView, sheet: SheetName): Promise<string | undefined | null> {
  const { options, chosen } = papers;
  if (sheet === 'customer' || sheet === 'inside' || chosen !== null || options.length < 2) return undefined;
  const picked = await vscode.window.showQuickPick(
    options.map(({ id, name }) => ({ label: name, description: id, id })),
    { placeHolder: vscode.l10n.t('The owner has not chosen yet. Which option is this sheet about?') },
  );
  return picked?.id ?? null;
}

async function askWay(papers: PapersView, sheet: SheetName): Promise<Way | undefined> {
  const formats = papers.sheets.find((one) => one.sheet === sheet)?.formats ?? [];
  const { uiKind, remoteName } = vscode.env;
  const where = remoteName !== undefined ? 'remote' : uiKind === vscode.UIKind.Web ? 'page' : 'desktop';
  const ways = waysToPrint(where).filter(({ way }) => formats.includes(way.format));
  const picked = await vscode.window.showQuickPick(ways, {
    placeHolder: vscode.l10n.t('Look at it, save it, or open it in the browser?'),
    matchOnDetail: true,
  });
  return picked?.way;
}

async function save(job: vscode.Uri, made: Printed): Promise<void> {
  const target = await vscode.window.showSaveDialog({
    defaultUri: vscode.Uri.joinPath(job, '..', made.name),
    title: vscode.l10n.t('Save the Sheet'),
  });
  if (!target) return;
  try {
    await vscode.workspace.fs.writeFile(target, bytesOf(made));
    await layBeside(target, made);
  } catch (error) {
    void vscode.window.showErrorMessage(
      vscode.l10n.t('The sheet was not saved: {0}', error instanceof Error ? error.message : String(error)),
    );
    return;
  }
  const open = vscode.l10n.t('Open');
  const name = target.path.slice(target.path.lastIndexOf('/') + 1);
  const picked = await vscode.window.showInformationMessage(vscode.l10n.t('{0} is saved.', name), open);
  if (picked !== open) return;
  if (target.scheme === 'file' && vscode.env.remoteName === undefined) await vscode.env.openExternal(target);
  else await vscode.commands.executeCommand('vscode.open', target);
}

/** The video that a page plays goes with it. */
async function layBeside(page: vscode.Uri, { beside }: Printed): Promise<void> {
  if (beside === undefined) return;
  const from = vscode.Uri.parse(beside);
  const to = vscode.Uri.joinPath(page, '..', from.path.slice(from.path.lastIndexOf('/') + 1));
  if (to.toString() !== from.toString()) await vscode.workspace.fs.copy(from, to, { overwrite: true });
}

function textOf({ content }: Printed): string {
  return 'text' in content ? content.text : '';
}

function bytesOf({ content }: Printed): Uint8Array {
  return 'text' in content ? new TextEncoder().encode(content.text) : fromBase64(content.base64);
}
