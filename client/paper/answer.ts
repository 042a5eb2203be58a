/** "Record the Owner's Answer": the line that the customer page gave, checked by the server and written into the job. */
import * as vscode from 'vscode';
import type { AnswerAsked, AnswerHeld } from '../../server/src/features/paper/answer.ts';
import type { ANSWER, AnswerGiven } from '../../server/src/lsp/paper.ts';
import { jobUri } from '../at-hand.ts';
import type { Server } from '../server.ts';

const method: typeof ANSWER = 'gearquill/answer';
const TAKEN_BY = 'answer.takenBy';

type Given = NonNullable<AnswerAsked['given']>;

export function recordAnswer(context: vscode.ExtensionContext, server: Server): vscode.Disposable {
  return vscode.commands.registerCommand('gearquill.recordAnswer', (given?: string | vscode.Uri) => {
    const uri = jobUri(given);
    if (uri) return record(context, server, uri);
    void vscode.window.showInformationMessage(vscode.l10n.t('Open the job that the answer is for.'));
  });
}

async function record(context: vscode.ExtensionContext, server: Server, uri: vscode.Uri): Promise<void> {
  const text = await vscode.window.showInputBox({
    title: vscode.l10n.t("Record the Owner's Answer"),
    prompt: vscode.l10n.t('Paste the line that the customer page gave, or type it as it is read to you.'),
    placeHolder: 'J-1076 / overhaul / all / 6507.91 USD / by Ada Reed / 7KQ4-M2XD-9PTW',
    value: await copiedAnswer(),
    ignoreFocusOut: true,
  });
  if (!text?.trim()) return;
  const asked = { uri: uri.toString(), text };
  const held = await ask<AnswerHeld>(server, asked);
  if (!held) return;
  const given = await askGiven(context, held);
  if (!given) return;
  // Shown first, so that the change can be seen and undone there.
  await vscode.window.showTextDocument(await vscode.workspace.openTextDocument(uri), { preview: false });
  const made = await ask<AnswerGiven>(server, { ...asked, given });
  if (!made) return;
  if (!(await server.apply(made))) {
    void vscode.window.showWarningMessage(
      vscode.l10n.t('The job has changed meanwhile; nothing was written. Record the answer again.'),
    );
    return;
  }
  const saveIt = vscode.l10n.t('Save');
  const picked = await vscode.window.showInformationMessage(
    vscode.l10n.t('Recorded: {0} Undo takes it back.', made.summary),
    saveIt,
  );
  if (picked === saveIt) await vscode.workspace.save(uri);
}

/** What lies on the clipboard, where it looks like an answer. */
async function copiedAnswer(): Promise<string> {
  const text = (await vscode.env.clipboard.readText()).trim();
  return text.length < 500 && text.split('/').length === 6 ? text.replaceAll(/\s+/g, ' ') : '';
}

async function askGiven(context: vscode.ExtensionContext, held: AnswerHeld): Promise<Given | undefined> {
  const title = [
    `${held.option}, ${held.total}`,
    ...(held.left.length > 0 ? [vscode.l10n.t('without {0}', held.left.join(', '))] : []),
  ].join(', ');
  const by =
    held.by ??
    (await vscode.window.showInputBox({
      title,
      prompt: vscode.l10n.t('Who gave the answer?'),
      ignoreFocusOut: true,
      validateInput: (name) =>
        name.trim() === '' ? vscode.l10n.t('An answer needs the name of who gave it.') : undefined,
    }));
  if (!by) return undefined;
  const how = await askHow(title);
  if (!how) return undefined;
  const contact = how.reachedAt
    ? await vscode.window.showInputBox({
        title,
        prompt: how.reachedAt,
        placeHolder: vscode.l10n.t('May stay empty'),
        ignoreFocusOut: true,
      })
    : '';
  if (contact === undefined) return undefined;
  const takenBy = await vscode.window.showInputBox({
    title,
    prompt: vscode.l10n.t('Who of the shop took it?'),
    placeHolder: vscode.l10n.t('May stay empty'),
    value: context.globalState.get(TAKEN_BY, ''),
    ignoreFocusOut: true,
  });
  if (takenBy === undefined) return undefined;
  await context.globalState.update(TAKEN_BY, takenBy.trim());
  return {
    by: by.trim(),
    how: how.how,
    ...(contact.trim() && { contact: contact.trim() }),
    ...(takenBy.trim() && { takenBy: takenBy.trim() }),
  };
}

interface How extends vscode.QuickPickItem {
  readonly how: Given['how'];
  /** What is asked next. */
  readonly reachedAt?: string;
}

async function askHow(title: string): Promise<How | undefined> {
  const ways: How[] = [
    { label: vscode.l10n.t('E-mail'), how: 'email', reachedAt: vscode.l10n.t('From which address?') },
    { label: vscode.l10n.t('Text Message'), how: 'text', reachedAt: vscode.l10n.t('From which number?') },
    { label: vscode.l10n.t('Telephone'), how: 'telephone', reachedAt: vscode.l10n.t('At which number?') },
    { label: vscode.l10n.t('Signature'), how: 'signature' },
    { label: vscode.l10n.t('In Person'), how: 'in-person' },
  ];
  return vscode.window.showQuickPick(ways, {
    title,
    placeHolder: vscode.l10n.t('The answer is right. How did it come?'),
  });
}

/** What the server refuses is shown in full: the writer has to act on it. */
async function ask<A>(server: Server, asked: AnswerAsked): Promise<A | undefined> {
  const tokens = new vscode.CancellationTokenSource();
  try {
    const found = await server.work<A>(method, asked, tokens.token);
    if (!found)
      void vscode.window.showWarningMessage(
        vscode.l10n.t('The language server does not run; the answer was not checked.'),
      );
    return found;
  } catch (error) {
    void vscode.window.showErrorMessage(vscode.l10n.t('The answer was not recorded.'), {
      modal: true,
      detail: error instanceof Error ? error.message : String(error),
    });
    return undefined;
  } finally {
    tokens.dispose();
  }
}
