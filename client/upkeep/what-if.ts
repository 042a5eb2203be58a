/** "What if": what unsaved edits of the rules, or a figure, would do to jobs; a chart and the figures beside it. */
import * as vscode from 'vscode';
import type { Older, ReportAnswer } from '../../server/src/features/upkeep/reports.ts';
import type { ReportParams } from '../../server/src/lsp/upkeep.ts';
import { reportPage } from './report-html.ts';

type Over = Extract<ReportParams, { report: 'what-if' }>['over'];

export function whatIfCommand(
  context: vscode.ExtensionContext,
  ask: (params: ReportParams) => Promise<ReportAnswer | undefined>,
): vscode.Disposable {
  const folder = vscode.Uri.joinPath(context.extensionUri, 'dist/preview');
  let panel: vscode.WebviewPanel | undefined;
  const run = async () => {
    const saved = await savedTexts();
    const set = saved.length > 0 ? [] : await askFigures();
    const over = set && (await askOver());
    if (!set || !over) return;
    const near = vscode.window.activeTextEditor?.document.uri.toString();
    const made = await ask({ report: 'what-if', over, saved, set, near });
    if (!made) return;
    if (!panel) {
      panel = vscode.window.createWebviewPanel(
        'gearquill.whatIf',
        vscode.l10n.t('What If'),
        vscode.ViewColumn.Beside,
        { enableScripts: false, enableCommandUris: ['vscode.open'], localResourceRoots: [folder] },
      );
      panel.onDidDispose(() => {
        panel = undefined;
      });
    }
    const { webview } = panel;
    webview.html = reportPage(made, {
      language: vscode.env.language,
      css: webview.asWebviewUri(vscode.Uri.joinPath(folder, 'report.css')).toString(),
      source: webview.cspSource,
      dearer: vscode.l10n.t('dearer'),
      cheaper: vscode.l10n.t('cheaper'),
      chart: vscode.l10n.t('How far each total moves'),
    });
    panel.reveal(undefined, true);
  };
  return vscode.Disposable.from(vscode.commands.registerCommand('gearquill.whatIf', run), {
    dispose: () => panel?.dispose(),
  });
}

/** Files of the book that are edited and not saved, as they are on disk. */
async function savedTexts(): Promise<Older[]> {
  const edited = vscode.workspace.textDocuments.filter(
    ({ isDirty, languageId, uri }) =>
      isDirty && languageId.startsWith('gearquill-') && uri.scheme !== 'untitled',
  );
  // What has been typed in a job is no change of the book.
  const rules = edited.filter(({ languageId }) => !/-(?:job|cases)$/.test(languageId));
  return Promise.all(
    rules.map(async ({ uri }) => ({
      uri: uri.toString(),
      text: new TextDecoder('utf-8', { ignoreBOM: true }).decode(await vscode.workspace.fs.readFile(uri)),
    })),
  );
}

async function askFigures(): Promise<string[] | undefined> {
  const typed = await vscode.window.showInputBox({
    title: vscode.l10n.t('What if'),
    prompt: vscode.l10n.t(
      'Which figure would be another? Several: with semicolons between. Or edit a file of the rules, do not save it, and ask again.',
    ),
    placeHolder: 'rates.bench.hourly=165.00; rates.*.hourly=+4%',
    ignoreFocusOut: true,
    validateInput: (text) =>
      text.trim() === '' || text.split(';').every((one) => one.includes('='))
        ? undefined
        : vscode.l10n.t('Write the place with dots and the value after "=".'),
  });
  const set = typed?.split(';').map((one) => one.trim());
  return set?.filter((one) => one !== '');
}

async function askOver(): Promise<Over | undefined> {
  const items: (vscode.QuickPickItem & { readonly over: Over })[] = [
    { label: vscode.l10n.t('Open jobs'), over: 'open' },
    { label: vscode.l10n.t('All jobs'), over: 'all' },
    { label: vscode.l10n.t('Templates'), over: 'templates' },
  ];
  return (await vscode.window.showQuickPick(items, { placeHolder: vscode.l10n.t('Over what?') }))?.over;
}
