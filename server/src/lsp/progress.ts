/** Long work shown to whoever waits for it. */
import type { ProgressToken } from 'vscode-languageserver';
import type { Session } from './session.ts';

export type Tell = (percent: number) => void;

/** `token`: of the client that asked; none shows nothing. */
export async function working(
  session: Session,
  token: ProgressToken | undefined,
  title: string,
  work: (tell: Tell) => Promise<void>,
): Promise<void> {
  const progress = session.connection.window.attachWorkDoneProgress(token);
  progress.begin(title, 0);
  try {
    await work((percent) => progress.report(percent));
  } finally {
    progress.done();
  }
}

/** Work that no one asked for; shown when the client can show it. */
export async function workingUnasked(
  session: Session,
  title: string,
  work: (tell: Tell) => Promise<void>,
): Promise<void> {
  const progress = await session.connection.window.createWorkDoneProgress();
  progress.begin(title, 0);
  try {
    await work((percent) => progress.report(percent));
  } finally {
    progress.done();
  }
}
