/** The job that commands and the status bar are about: in the active editor, or else the one that the preview shows. */
import * as vscode from 'vscode';
import { isJob } from './languages.ts';

let shown: vscode.Uri | undefined;
const changed = new vscode.EventEmitter<void>();

/** The preview says which job it shows, while it is the active tab. */
export function noteShownJob(uri: vscode.Uri | undefined): void {
  shown = uri;
  changed.fire();
}

export const onPreviewChanged = changed.event;

export function jobAtHand(): vscode.Uri | undefined {
  const document = vscode.window.activeTextEditor?.document;
  if (document) return isJob(document) ? document.uri : undefined;
  return shown;
}

/** What a command was called with, or the job at hand. */
export function jobUri(given: string | vscode.Uri | undefined): vscode.Uri | undefined {
  if (given instanceof vscode.Uri) return given;
  return typeof given === 'string' ? vscode.Uri.parse(given) : jobAtHand();
}
