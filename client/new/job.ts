/** A new job file: number, unit family, customer and template are asked; the rest is typed into it. */
import * as vscode from 'vscode';
import type { Server } from '../server.ts';
import { askId, bookFolder, entriesOf, pickEntry } from './ask.ts';
import snippets from './snippets.json' with { type: 'json' };
import { fill, literal, nextId } from './text.ts';

export async function newJob(server: Server): Promise<void> {
  const jobs = await entriesOf(server, 'job', '', 100_000);
  const suggested = nextId(
    jobs.map((one) => one.id),
    'J-1',
  );
  const id = await askId(server, 'job', vscode.l10n.t('New job'), suggested, 'J-1');
  const unit = await pickEntry(server, 'unit', vscode.l10n.t('Which unit family is in it?'), false);
  const customer = await pickEntry(
    server,
    'customer',
    vscode.l10n.t('Which customer? None: write them out.'),
    true,
  );
  const template = await pickEntry(server, 'template', vscode.l10n.t('Begin with which template?'), true);

  // Beside the last job, where the shop keeps its jobs.
  const last = jobs.at(-1);
  const folder = last
    ? vscode.Uri.joinPath(vscode.Uri.parse(last.uri), '..')
    : vscode.Uri.joinPath(await bookFolder(), 'jobs');
  const uri = vscode.Uri.joinPath(folder, `${id}.job.yaml`);
  const edit = new vscode.WorkspaceEdit();
  edit.createFile(uri, { ignoreIfExists: true });
  await vscode.workspace.applyEdit(edit);
  const editor = await vscode.window.showTextDocument(await vscode.workspace.openTextDocument(uri));
  await editor.insertSnippet(
    new vscode.SnippetString(jobText({ id, unit, customer, template, today: today() })),
  );
}

interface JobChoices {
  readonly id: string;
  readonly unit: string | undefined;
  readonly customer: string | undefined;
  readonly template: string | undefined;
  /** As `2026-03-02`. */
  readonly today: string;
}

/** The snippet of a job with what has been picked. */
export function jobText({ id, unit, customer, template, today }: JobChoices): string {
  const lines = fill(snippets.job, { 1: id, ...(unit === undefined ? {} : { 8: unit }) }).map((line) => {
    if (line.startsWith('opened:')) return `opened: ${today}`;
    if (line.startsWith('customer:') && customer !== undefined) return `customer: ${literal(customer)}`;
    return template !== undefined && line.endsWith('- $0') ? `  - template: ${literal(template)}$0` : line;
  });
  return `${lines.join('\n')}\n`;
}

function today(): string {
  const now = new Date();
  const two = (number: number) => String(number).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
