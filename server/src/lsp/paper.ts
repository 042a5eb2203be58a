/** `gearquill/print` and `gearquill/answer`: a job on paper, and what its owner said to it. */
import type { CancellationToken, WorkspaceEdit } from 'vscode-languageserver';
import { Refusal } from '../features/edit.ts';
import {
  type AnswerAsked,
  type AnswerHeld,
  type AnswerRecorded,
  answerFor,
} from '../features/paper/answer.ts';
import { type PrintAsked, type Printed, printed } from '../features/paper/print.ts';
import { answered } from './answering.ts';
import { now } from './day.ts';
import { workspaceEdit } from './edits.ts';
import type { At, Session } from './session.ts';

export const PRINT = 'gearquill/print';
export const ANSWER = 'gearquill/answer';

/** What is checked only has no edit. */
export type AnswerGiven = Omit<AnswerRecorded, 'edit'> & { readonly edit: WorkspaceEdit };

export function answerPaper(session: Session): void {
  const { connection } = session;
  connection.onRequest(PRINT, (params: PrintAsked, token: CancellationToken) =>
    answered(session, PRINT, token, (): Promise<Printed> => {
      const { estimates, file } = jobAt(session, params.uri);
      return session.reading((read) => printed(estimates, file, params, read));
    }),
  );
  connection.onRequest(ANSWER, (params: AnswerAsked, token: CancellationToken) =>
    answered(session, ANSWER, token, async (): Promise<AnswerHeld | AnswerGiven> => {
      const { estimates, file, book } = jobAt(session, params.uri);
      const { version } = book;
      const found = await answerFor(estimates, file, params, now());
      if (book.version !== version) throw new Refusal('The shop book has changed meanwhile. Ask again.');
      return 'edit' in found ? { ...found, edit: workspaceEdit(session, found.edit) } : found;
    }),
  );
}

function jobAt(session: Session, uri: string): At {
  const at = session.at(uri);
  if (!at) throw new Refusal('This file is in no shop book: there is no shop.yaml in its folder or above.');
  return at;
}
