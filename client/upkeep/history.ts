/** The files of the book as they were at a revision, from the editor's own git. */
import * as vscode from 'vscode';
import type { Older } from '../../server/src/features/upkeep/reports.ts';
import type { ReportParams } from '../../server/src/lsp/upkeep.ts';

/** As much of the public interface of the editor's git extension as is used. */
interface Git {
  getAPI(version: 1): {
    readonly repositories: readonly Repository[];
    getRepository(uri: vscode.Uri): Repository | null;
  };
}
interface Repository {
  readonly rootUri: vscode.Uri;
  readonly state: { readonly untrackedChanges?: readonly Change[] };
  log(options: { maxEntries: number }): Promise<readonly Commit[]>;
  diffWith(ref: string): Promise<readonly Change[]>;
  show(ref: string, path: string): Promise<string>;
}
interface Commit {
  readonly hash: string;
  readonly message: string;
  readonly authorDate?: Date;
}
interface Change {
  readonly uri: vscode.Uri;
  readonly originalUri: vscode.Uri;
}

const OF_BOOK = /\.ya?ml$/i;
/** Revisions to pick from; others are typed. */
const OFFERED = 20;

/** Undefined when nothing was picked. */
export async function sinceRevision(): Promise<ReportParams | undefined> {
  const here = vscode.window.activeTextEditor?.document.uri ?? vscode.workspace.workspaceFolders?.[0]?.uri;
  const repository = here && (await repositoryOf(here));
  if (!repository) {
    void vscode.window.showWarningMessage(
      vscode.l10n.t(
        'This shop book is not kept in git, or the editor does not know of it, so there is nothing to compare with.',
      ),
    );
    return undefined;
  }
  const picked = await pickRevision(repository);
  if (!picked) return undefined;
  return {
    report: 'compare',
    title: vscode.l10n.t('What changed in the book since {0}', picked.label),
    older: await olderFiles(repository, picked.ref),
    near: here.toString(),
  };
}

async function repositoryOf(uri: vscode.Uri): Promise<Repository | undefined> {
  const extension = vscode.extensions.getExtension<Git>('vscode.git');
  if (!extension) return undefined;
  const git = (await extension.activate()).getAPI(1);
  return git.getRepository(uri) ?? git.repositories[0];
}

interface Picked extends vscode.QuickPickItem {
  readonly ref: string;
}

async function pickRevision(repository: Repository): Promise<Picked | undefined> {
  const commits = await repository.log({ maxEntries: OFFERED });
  const items = commits.map(
    ({ hash, message, authorDate }, i): Picked => ({
      label: message.split('\n')[0] ?? hash,
      description: `${hash.slice(0, 8)} ${authorDate?.toLocaleDateString() ?? ''}`,
      detail: i === 0 ? vscode.l10n.t('What is not committed yet') : '',
      ref: hash,
    }),
  );
  return vscode.window.showQuickPick(items, {
    placeHolder: vscode.l10n.t('Compare the book as it is now with which revision?'),
    matchOnDescription: true,
  });
}

async function olderFiles(repository: Repository, ref: string): Promise<Older[]> {
  const changed = (await repository.diffWith(ref)).filter(({ uri, originalUri }) =>
    [uri, originalUri].some(({ path }) => OF_BOOK.test(path)),
  );
  const older = new Map<string, string | null>();
  for (const { uri } of repository.state.untrackedChanges ?? []) older.set(uri.toString(), null);
  for (const { uri, originalUri } of changed) {
    // A file that was moved is gone at its new place, and there at its old one.
    older.set(uri.toString(), null);
    older.set(originalUri.toString(), await textAt(repository, ref, originalUri));
  }
  return [...older].map(([uri, text]) => ({ uri, text }));
}

async function textAt(repository: Repository, ref: string, uri: vscode.Uri): Promise<string | null> {
  try {
    return await repository.show(ref, uri.fsPath);
  } catch {
    // It was not there yet.
    return null;
  }
}
