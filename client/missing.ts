/** Missing work of a job: a list to pick from, and the ways to mend each. */
import * as vscode from 'vscode';
import type { MissingView } from '../server/src/features/client/estimate-view.ts';
import { codeOf } from './code-pages.ts';
import { openPlace, toRange } from './convert.ts';
import { isJob } from './languages.ts';
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
    const missing = await pickMissing(view.missing);
    if (missing) await mend(uri, missing);
  });
}

let lastJob: vscode.Uri | undefined;

/** The job that a command is about: named, in the active editor, or shown in the preview. */
export function jobUri(given: string | vscode.Uri | undefined): vscode.Uri | undefined {
  if (given instanceof vscode.Uri) return given;
  if (typeof given === 'string') return vscode.Uri.parse(given);
  const document = vscode.window.activeTextEditor?.document;
  return isJob(document) ? document.uri : lastJob;
}

/** The preview says which job it shows, for commands that are called from it. */
export function noteShownJob(uri: vscode.Uri | undefined): void {
  lastJob = uri;
}

interface MissingItem extends vscode.QuickPickItem {
  readonly missing: MissingView;
}

const SIGNS: Record<MissingView['severity'], string> = {
  error: '$(error)',
  warning: '$(warning)',
  information: '$(info)',
  hint: '$(info)',
};

async function pickMissing(all: readonly MissingView[]): Promise<MissingView | undefined> {
  const items = all.map((missing): MissingItem => {
    const [first = '', ...rest] = missing.message.split(/(?<=\.) /);
    return {
      label: `${SIGNS[missing.severity]} ${first}`,
      description: missing.options.join(', '),
      detail: rest.join(' '),
      missing,
    };
  });
  const picked = await vscode.window.showQuickPick(items, {
    placeHolder: vscode.l10n.t('What is missing? Pick it to mend it.'),
    matchOnDetail: true,
  });
  return picked?.missing;
}

async function mend(uri: vscode.Uri, missing: MissingView): Promise<void> {
  const fixes = await fixesFor(uri, missing);
  const goTo = vscode.l10n.t('Go to where it is asked for');
  const items = [...fixes.map((fix) => ({ label: fix.title, fix })), { label: goTo, fix: undefined }];
  const picked = await vscode.window.showQuickPick(items, { placeHolder: missing.message });
  if (!picked) return;
  if (picked.fix) await applyFix(picked.fix);
  else await openPlace({ uri: uri.toString(), range: missing.range });
}

/** The quick fixes of one missing thing, the preferred one first. */
export async function fixesFor(uri: vscode.Uri, missing: MissingView): Promise<vscode.CodeAction[]> {
  await vscode.workspace.openTextDocument(uri);
  const actions: vscode.CodeAction[] | undefined = await vscode.commands.executeCommand(
    'vscode.executeCodeActionProvider',
    uri,
    toRange(missing.range),
    vscode.CodeActionKind.QuickFix.value,
    OFFERED,
  );
  return (actions ?? [])
    .filter((action) =>
      action.diagnostics?.some((one) => codeOf(one) === missing.code && one.message === missing.message),
    )
    .sort((a, b) => Number(b.isPreferred ?? false) - Number(a.isPreferred ?? false));
}

/** How many actions are worked out ahead. */
const OFFERED = 20;

export async function applyFix({ edit, command }: vscode.CodeAction): Promise<void> {
  if (edit) await vscode.workspace.applyEdit(edit);
  if (command) await vscode.commands.executeCommand(command.command, ...(command.arguments ?? []));
}
