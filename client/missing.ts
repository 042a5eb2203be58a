/** Missing work of a job: a list to pick from, and the ways to mend each. */
import * as vscode from 'vscode';
import type { CodeAction } from 'vscode-languageclient';
import type { MissingView } from '../server/src/features/client/estimate-view.ts';
import { jobUri } from './at-hand.ts';
import { openPlace } from './convert.ts';
import type { Server } from './server.ts';

export function missingWork(server: Server): vscode.Disposable {
  return vscode.commands.registerCommand('gearquill.showMissing', async (given?: string | vscode.Uri) => {
    const uri = jobUri(given);
    if (!uri) return;
    const view = await server.ask('gearquill/estimate', { uri: uri.toString() });
    if (!view) {
      void vscode.window.showInformationMessage(vscode.l10n.t('This job cannot be read yet.'));
      return;
    }
    if (view.missing.length === 0) {
      void vscode.window.showInformationMessage(vscode.l10n.t('Nothing is missing on {0}.', view.job));
      return;
    }
    await pickAndMend(server, uri, view.missing);
  });
}

const SIGNS: Record<MissingView['severity'], string> = {
  error: '$(error)',
  warning: '$(warning)',
  information: '$(info)',
  hint: '$(info)',
};

interface Item extends vscode.QuickPickItem {
  readonly run: () => Promise<unknown>;
}

async function pickAndMend(server: Server, uri: vscode.Uri, missing: readonly MissingView[]): Promise<void> {
  const all = await fixForAll(server, uri, missing);
  const items = missing.map((one): Item => {
    const [first = '', ...rest] = one.message.split(/(?<=\.) /);
    return {
      label: `${SIGNS[one.severity]} ${first}`,
      description: one.options.join(', '),
      detail: rest.join(' '),
      run: () => mend(server, uri, one),
    };
  });
  await pick(vscode.l10n.t('What is missing? Pick it to mend it.'), [
    ...(all ? [{ label: `$(checklist) ${all.title}`, run: () => server.apply(all) }] : []),
    ...items,
  ]);
}

async function mend(server: Server, uri: vscode.Uri, missing: MissingView): Promise<void> {
  const fixes = await fixesFor(server, uri, missing);
  await pick(missing.message, [
    ...fixes.map((fix) => ({ label: fix.title, run: () => server.apply(fix) })),
    {
      label: vscode.l10n.t('Go to where it is asked for'),
      run: () => openPlace({ uri: uri.toString(), range: missing.range }),
    },
  ]);
}

async function pick(placeHolder: string, items: readonly Item[]): Promise<void> {
  const picked = await vscode.window.showQuickPick(items, { placeHolder, matchOnDetail: true });
  await picked?.run();
}

/** The quick fixes of one missing thing, the preferred one first. */
export async function fixesFor(server: Server, uri: vscode.Uri, missing: MissingView): Promise<CodeAction[]> {
  const actions = await server.quickFixes(uri, missing.range);
  return actions
    .filter(({ diagnostics }) =>
      diagnostics?.some((one) => one.code === missing.code && one.message === missing.message),
    )
    .sort((a, b) => Number(b.isPreferred ?? false) - Number(a.isPreferred ?? false));
}

/** One fix for everything that is missing, when the server has one: it names no single problem. */
export async function fixForAll(
  server: Server,
  uri: vscode.Uri,
  missing: readonly MissingView[],
): Promise<CodeAction | undefined> {
  const [first] = missing;
  const actions = first ? await server.quickFixes(uri, first.range) : [];
  return actions.find((one) => one.diagnostics === undefined);
}
