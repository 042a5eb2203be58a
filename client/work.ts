/** Long work of the server, shown while it runs. */
import * as vscode from 'vscode';
import type { Server } from './server.ts';

export interface Shown {
  readonly title: string;
  /** What is said when the server has no answer; left out, nothing is. */
  readonly none?: string;
}

/** What the server answers; undefined when it does not, when it was cancelled, and when it refuses, which is shown. */
export async function workShown<A>(
  server: Server,
  method: string,
  params: object,
  { title, none }: Shown,
): Promise<A | undefined> {
  try {
    const made = await vscode.window.withProgress(
      { location: vscode.ProgressLocation.Notification, title, cancellable: true },
      (_, token) => server.work<A>(method, params, token),
    );
    if (!made && none !== undefined) void vscode.window.showWarningMessage(none);
    return made;
  } catch (error) {
    // Cancelling is an answer too.
    if (error instanceof vscode.CancellationError || /cancel/i.test(String(error))) return undefined;
    void vscode.window.showErrorMessage(error instanceof Error ? error.message : String(error));
    return undefined;
  }
}
