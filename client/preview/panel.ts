/** The estimate beside the job: one panel, which follows the job at hand. */
import * as vscode from 'vscode';
import type { EstimateView } from '../../server/src/features/client/estimate-view.ts';
import { jobUri, noteShownJob } from '../at-hand.ts';
import { openPlace, toRange } from '../convert.ts';
import { isJob } from '../languages.ts';
import { fixesFor, fixForAll } from '../missing.ts';
import { once } from '../once.ts';
import type { Server } from '../server.ts';
import type { FromPage, PageState, ToPage } from './messages.ts';
import { pageHtml } from './page.ts';
import { words } from './words.ts';

const TYPE = 'gearquill.preview';
const PAUSE = 250;

export function preview(context: vscode.ExtensionContext, server: Server): vscode.Disposable {
  const folder = vscode.Uri.joinPath(context.extensionUri, 'dist/preview');
  let open: Preview | undefined;
  const adopt = (panel: vscode.WebviewPanel, uri: vscode.Uri) => {
    const made = new Preview(panel, folder, server, uri);
    open = made;
    panel.onDidDispose(() => {
      if (open === made) open = undefined;
      made.dispose();
    });
  };
  return vscode.Disposable.from(
    vscode.commands.registerCommand('gearquill.openPreview', (given?: string | vscode.Uri) => {
      const uri = jobUri(given);
      if (!uri) return;
      if (open) return open.show(uri);
      const beside = { viewColumn: vscode.ViewColumn.Beside, preserveFocus: true };
      adopt(vscode.window.createWebviewPanel(TYPE, titleOf(uri), beside, { enableScripts: true }), uri);
    }),
    vscode.window.registerWebviewPanelSerializer(TYPE, {
      deserializeWebviewPanel: async (panel, state?: PageState) => {
        if (state?.uri && !open) adopt(panel, vscode.Uri.parse(state.uri));
        else panel.dispose();
      },
    }),
    { dispose: () => open?.dispose() },
  );
}

function titleOf(uri: vscode.Uri): string {
  const name = uri.path.split('/').at(-1) ?? '';
  return vscode.l10n.t('Estimate {0}', name.replace(/\.job\.yaml$/, ''));
}

class Preview implements vscode.Disposable {
  readonly #panel: vscode.WebviewPanel;
  readonly #server: Server;
  readonly #disposables: vscode.Disposable[];
  readonly #refresh = once(() => this.#update());
  #uri: vscode.Uri;
  #view: EstimateView | undefined;

  constructor(panel: vscode.WebviewPanel, folder: vscode.Uri, server: Server, uri: vscode.Uri) {
    this.#panel = panel;
    this.#server = server;
    this.#uri = uri;
    panel.webview.options = { enableScripts: true, localResourceRoots: [folder] };
    this.#disposables = [
      panel.webview.onDidReceiveMessage((message: FromPage) => this.#receive(message)),
      server.onChanged(this.#refresh),
      server.onStateChanged(this.#refresh),
      vscode.window.onDidChangeActiveTextEditor((editor) => {
        if (isJob(editor?.document)) this.show(editor.document.uri);
      }),
      panel.onDidChangeViewState(() => noteShownJob(panel.active ? this.#uri : undefined)),
      vscode.window.onDidChangeTextEditorSelection(({ textEditor }) => this.#follow(textEditor)),
    ];
    panel.webview.html = pageHtml(panel.webview, folder);
  }

  show(uri: vscode.Uri): void {
    this.#panel.reveal(undefined, true);
    if (uri.toString() === this.#uri.toString()) return;
    this.#uri = uri;
    this.#panel.title = titleOf(uri);
    this.#refresh();
  }

  dispose(): void {
    noteShownJob(undefined);
    for (const one of this.#disposables) one.dispose();
  }

  async #update(): Promise<void> {
    const uri = this.#uri;
    const view = await this.#server.ask('gearquill/estimate', { uri: uri.toString() });
    if (uri !== this.#uri) return;
    this.#view = view;
    this.#post({ type: 'show', view, words: words(), state: this.#server.state });
    const editor = this.#editor();
    if (editor) this.#follow(editor);
    this.#offerFixes();
  }

  /** Ways to mend follow the numbers, when typing pauses. */
  readonly #offerFixes = once(async () => {
    const view = this.#view;
    if (!view) return;
    const [all, ...fixes] = await Promise.all([
      fixForAll(this.#server, this.#uri, view.missing),
      ...view.missing.map((missing) => fixesFor(this.#server, this.#uri, missing)),
    ]);
    if (view !== this.#view) return;
    this.#post({
      type: 'fixes',
      all: all?.title,
      fixes: fixes.map((actions) => actions.map((one) => one.title)),
    });
  }, PAUSE);

  /** Asked for anew, because the text may have changed since they were offered. */
  async #fix(title: string, missing: number | undefined): Promise<void> {
    const { missing: list = [] } = this.#view ?? {};
    const one = missing === undefined ? undefined : list[missing];
    const fixes = one
      ? await fixesFor(this.#server, this.#uri, one)
      : [await fixForAll(this.#server, this.#uri, list)];
    const fix = fixes.find((action) => action?.title === title);
    if (fix) await this.#server.apply(fix);
  }

  #follow(editor: vscode.TextEditor): void {
    if (editor.document.uri.toString() !== this.#uri.toString()) return;
    if (!vscode.workspace.getConfiguration('gearquill').get('preview.followCursor', true)) return;
    this.#post({ type: 'cursor', line: editor.selection.active.line });
  }

  async #receive(message: FromPage): Promise<void> {
    switch (message.type) {
      case 'ready':
        return this.#refresh();
      case 'reveal':
        return this.#reveal(toRange(message.range));
      case 'open':
        return openPlace(message.place, { viewColumn: this.#editor()?.viewColumn ?? vscode.ViewColumn.One });
      case 'figure': {
        const { sale, figure } = message;
        const tree = await this.#server.ask('gearquill/figure', { uri: this.#uri.toString(), sale, figure });
        return this.#post({ type: 'figure', tree });
      }
      case 'fix':
        return this.#fix(message.title, message.missing);
      case 'restart':
        await vscode.commands.executeCommand('gearquill.restartServer');
    }
  }

  async #reveal(range: vscode.Range): Promise<void> {
    const viewColumn = this.#editor()?.viewColumn ?? vscode.ViewColumn.One;
    const document = await vscode.workspace.openTextDocument(this.#uri);
    const at = new vscode.Range(range.start, range.start);
    const editor = await vscode.window.showTextDocument(document, { viewColumn, selection: at });
    editor.revealRange(at, vscode.TextEditorRevealType.InCenterIfOutsideViewport);
  }

  #editor(): vscode.TextEditor | undefined {
    return vscode.window.visibleTextEditors.find(
      ({ document }) => document.uri.toString() === this.#uri.toString(),
    );
  }

  #post(message: ToPage): void {
    void this.#panel.webview.postMessage(message);
  }
}
