/** "New job / part / operation / rule from here": asks what it needs, and writes it where the book keeps such things. */
import * as vscode from 'vscode';
import { codeOf } from '../code-pages.ts';
import type { Server } from '../server.ts';
import { askId, Cancelled, pickEntry, pickFile } from './ask.ts';
import { newJob } from './job.ts';
import snippets from './snippets.json' with { type: 'json' };
import { entryPlace, fill } from './text.ts';

/** An entry of a catalog that can be begun from a job. */
interface EntryKind {
  readonly kind: 'part' | 'operation' | 'rule';
  readonly title: string;
  readonly suffix: string;
  readonly section: string;
  readonly example: string;
  /** The snippet, its places filled from what is asked. */
  readonly body: (server: Server, id: string) => Promise<string[]>;
}

const NONE = null;

function entryKinds(): Record<EntryKind['kind'], EntryKind> {
  return {
    part: {
      kind: 'part',
      title: vscode.l10n.t('New part'),
      suffix: '.parts.yaml',
      section: 'parts',
      example: 'TC-101',
      body: async (server, id) => {
        const role = await pickEntry(server, 'role', vscode.l10n.t('What is it to a rule?'), true);
        const unit = await pickEntry(server, 'unit', vscode.l10n.t('Which unit family does it fit?'), true);
        return fill(snippets.part, { 1: id, 4: role ?? NONE, 5: unit ?? NONE });
      },
    },
    operation: {
      kind: 'operation',
      title: vscode.l10n.t('New operation'),
      suffix: '.labor.yaml',
      section: 'operations',
      example: 'replace-mount',
      body: async (server, id) => {
        const rate = await pickEntry(server, 'rate', vscode.l10n.t('Which labor rate prices it?'), false);
        const role = await pickEntry(server, 'role', vscode.l10n.t('What is it to a rule?'), true);
        return fill(snippets.operation, { 1: id, ...(rate ? { 4: rate } : {}), 6: role ?? NONE });
      },
    },
    rule: {
      kind: 'rule',
      title: vscode.l10n.t('New rule'),
      suffix: '.rules.yaml',
      section: 'rules',
      example: 'coolant-in-fluid',
      body: async (server, id) => {
        const finding = await pickEntry(
          server,
          'finding',
          vscode.l10n.t('Which finding asks for it?'),
          false,
        );
        const role = await pickEntry(server, 'role', vscode.l10n.t('What does it ask for?'), false);
        return fill(snippets.rule, {
          1: id,
          ...(finding ? { 3: finding } : {}),
          ...(role ? { 4: role } : {}),
        });
      },
    },
  };
}

export function newCommands(server: Server): vscode.Disposable {
  const entry = (kind: EntryKind['kind']) => asking(() => newEntry(server, entryKinds()[kind]));
  const job = asking(() => newJob(server));
  const anything = asking(async () => {
    const choices = [
      { label: vscode.l10n.t('Job'), run: job },
      { label: vscode.l10n.t('Part'), run: entry('part') },
      { label: vscode.l10n.t('Operation'), run: entry('operation') },
      { label: vscode.l10n.t('Rule'), run: entry('rule') },
    ];
    const picked = await vscode.window.showQuickPick(choices, { placeHolder: vscode.l10n.t('New what?') });
    await picked?.run();
  });
  return vscode.Disposable.from(
    vscode.commands.registerCommand('gearquill.new', anything),
    vscode.commands.registerCommand('gearquill.newJob', job),
    vscode.commands.registerCommand('gearquill.newPart', entry('part')),
    vscode.commands.registerCommand('gearquill.newOperation', entry('operation')),
    vscode.commands.registerCommand('gearquill.newRule', entry('rule')),
  );
}

/** Escape at any question ends a command. */
function asking(run: () => Promise<void>): () => Promise<void> {
  return async () => {
    try {
      await run();
    } catch (error) {
      if (!(error instanceof Cancelled)) throw error;
    }
  };
}

async function newEntry(server: Server, entry: EntryKind): Promise<void> {
  const id = await askId(server, entry.kind, entry.title, wordAtCursor() ?? '', entry.example);
  const body = await entry.body(server, id);
  const file = await pickFile(entry.suffix, vscode.l10n.t('Which file does it go into?'));
  const document = await vscode.workspace.openTextDocument(file);
  const { line, before } = entryPlace(document.getText(), entry.section);
  const editor = await vscode.window.showTextDocument(document, { viewColumn: vscode.ViewColumn.Active });
  const indented = body.map((text) => `  ${text}`.trimEnd());
  const atEnd = line >= document.lineCount;
  const at = atEnd ? document.lineAt(document.lineCount - 1).range.end : new vscode.Position(line, 0);
  const lines = [...before, ...indented.slice(0, -1)];
  const text = atEnd ? `\n${lines.join('\n')}$0` : `${lines.join('\n')}$0\n`;
  editor.selection = new vscode.Selection(at, at);
  await editor.insertSnippet(new vscode.SnippetString(text), at);
}

/** What the cursor is on, when the file at hand names things the book may not have yet. */
function wordAtCursor(): string | undefined {
  const editor = vscode.window.activeTextEditor;
  if (!editor) return undefined;
  const unknown = vscode.languages
    .getDiagnostics(editor.document.uri)
    .find((one) => codeOf(one) === 'unknown-reference' && one.range.contains(editor.selection.active));
  return unknown && editor.document.getText(unknown.range);
}
