/** The status bar: the book, and what the job at hand comes to and lacks. */
import * as vscode from 'vscode';
import type { EstimateView } from '../server/src/features/client/estimate-view.ts';
import { jobAtHand, onPreviewChanged } from './at-hand.ts';
import { isOurs, LANGUAGES } from './languages.ts';
import { once } from './once.ts';
import type { Server } from './server.ts';

export function statusBar(server: Server): vscode.Disposable {
  const total = vscode.window.createStatusBarItem('gearquill.total', vscode.StatusBarAlignment.Left, 20);
  total.name = vscode.l10n.t('Gearquill: total and missing work');
  const book = vscode.languages.createLanguageStatusItem(
    'gearquill.book',
    LANGUAGES.map((language) => ({ language })),
  );
  book.name = vscode.l10n.t('Shop book');

  const showBook = (shop: string | undefined) => {
    const stopped = server.state === 'stopped';
    book.busy = server.state === 'starting';
    book.severity = stopped ? vscode.LanguageStatusSeverity.Error : vscode.LanguageStatusSeverity.Information;
    book.text = stopped ? vscode.l10n.t('Server stopped') : (shop ?? vscode.l10n.t('Shop book'));
    book.detail = stopped ? vscode.l10n.t('nothing is checked or priced') : vscode.l10n.t('shop book');
    book.command = stopped
      ? { command: 'gearquill.restartServer', title: vscode.l10n.t('Restart') }
      : { command: 'gearquill.book.focus', title: vscode.l10n.t('Show the book') };
  };

  const refresh = once(async () => {
    const document = vscode.window.activeTextEditor?.document;
    const job = jobAtHand();
    const uri = (job ?? (isOurs(document) ? document.uri : undefined))?.toString();
    const [view, shop] = await Promise.all([
      job && server.ask('gearquill/estimate', { uri: job.toString() }),
      uri === undefined ? undefined : server.ask('gearquill/shop', { uri }),
    ]);
    if (jobAtHand()?.toString() !== job?.toString()) return;
    showBook(shop);
    if (!job) return total.hide();
    if (server.state === 'stopped') {
      total.text = vscode.l10n.t('$(error) Gearquill has stopped');
      total.tooltip = vscode.l10n.t('The language server has stopped. Nothing is checked or priced.');
      total.command = 'gearquill.restartServer';
      total.accessibilityInformation = undefined;
      return total.show();
    }
    if (!view) return total.hide();
    const words = statusWords(view);
    total.text = `${words.missing > 0 ? '$(warning)' : '$(checklist)'} ${[shop, words.text].filter(Boolean).join(': ')}`;
    total.accessibilityInformation = { label: `${shop ?? ''} ${view.job}: ${words.text}` };
    total.tooltip = tooltip(view);
    total.command = words.missing > 0 ? 'gearquill.showMissing' : 'gearquill.openPreview';
    total.show();
  });

  refresh();
  return vscode.Disposable.from(
    total,
    book,
    vscode.window.onDidChangeActiveTextEditor(refresh),
    onPreviewChanged(refresh),
    server.onChanged(refresh),
    server.onStateChanged(refresh),
  );
}

/** The chosen option's total, or all of them; and how much is missing. */
export function statusWords(view: EstimateView): { text: string; missing: number } {
  const chosen = view.options.find((one) => one.chosen);
  const shown = chosen ? [chosen] : view.options;
  const totals = shown.map((one) =>
    one.complete ? one.total.text : vscode.l10n.t('{0} so far', one.total.text),
  );
  const missing = view.missing.filter((one) => one.severity === 'error' || one.severity === 'warning').length;
  const lacks = missing === 0 ? vscode.l10n.t('nothing missing') : vscode.l10n.t('{0} missing', missing);
  return { text: `${totals.join(' | ')}, ${lacks}`, missing };
}

function tooltip(view: EstimateView): vscode.MarkdownString {
  const text = new vscode.MarkdownString();
  text.appendMarkdown(`**${escaped(view.job)}** `);
  text.appendText([view.customer, view.unit].filter(Boolean).join(', '));
  for (const option of view.options) {
    text.appendMarkdown(`\n- ${escaped(option.name)}: ${escaped(option.total.text)}`);
    if (option.chosen && view.options.length > 1) text.appendMarkdown(` (${vscode.l10n.t('chosen')})`);
  }
  return text;
}

function escaped(text: string): string {
  return text.replace(/[\\`*_{}[\]()#+\-.!<>|~$&]/g, '\\$&');
}
