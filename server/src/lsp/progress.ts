/** Long work shown to whoever waits for it. */
import type { ProgressToken, WorkDoneProgressReporter } from 'vscode-languageserver';
import type { Session } from './session.ts';

type Tell = (percent: number) => void;

/** `token`: of the client that asked; without one nothing is shown. */
export async function working<T>(
  session: Session,
  token: ProgressToken | undefined,
  title: string,
  work: (tell: Tell) => Promise<T>,
): Promise<T> {
  const progress = session.connection.window.attachWorkDoneProgress(token);
  progress.begin(title, 0);
  try {
    return await work((percent) => progress.report(percent));
  } finally {
    progress.done();
  }
}

/** Work that no one asked for. It begins at once; the client may take its time to show it, or not show it at all. */
export async function workingUnasked(
  session: Session,
  title: string,
  work: (tell: Tell) => Promise<void>,
): Promise<void> {
  let progress: WorkDoneProgressReporter | undefined;
  const done = work((percent) => progress?.report(percent));
  try {
    progress = await session.connection.window.createWorkDoneProgress();
  } catch {
    return done;
  }
  progress.begin(title, 0);
  await done.finally(() => progress?.done());
}
