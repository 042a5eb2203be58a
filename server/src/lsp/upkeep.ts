/** `gearquill/report`: reports over the whole book, in slices, so that the one who asked may cancel. */
import type { CancellationToken, WorkDoneProgressParams } from 'vscode-languageserver';
import { canonical } from '../book/paths.ts';
import { Refusal } from '../features/edit.ts';
import { type ReportAnswer, type ReportAsked, reportFor } from '../features/upkeep/reports.ts';
import { answered } from './answering.ts';
import { today } from './day.ts';
import type { Session } from './session.ts';
import { inSlices } from './slices.ts';

export const REPORT = 'gearquill/report';

/** `near`: a file of the book that is meant, where there are several. */
export type ReportParams = ReportAsked & { readonly near?: string | undefined };

export function answerReports(session: Session): void {
  session.connection.onRequest(
    REPORT,
    (params: ReportParams & WorkDoneProgressParams, token: CancellationToken) =>
      answered(session, REPORT, token, () => made(session, params, token)),
  );
}

async function made(
  session: Session,
  params: ReportParams,
  token: CancellationToken,
): Promise<ReportAnswer | null> {
  const book = (params.near === undefined ? undefined : session.bookAround(params.near)) ?? session.books[0];
  if (!book) throw new Refusal('There is no shop book in this folder.');
  const steps = reportFor(session.estimatesOf(book), spelled(params), today());
  return inSlices(book, steps, token, 'Ask again.');
}

/** With the URIs that books know. */
function spelled(params: ReportParams): ReportAsked {
  const older = <F extends { readonly uri: string }>(files: readonly F[]) =>
    files.map((one) => ({ ...one, uri: canonical(one.uri) }));
  switch (params.report) {
    case 'drift':
      return { ...params, uri: params.uri === undefined ? undefined : canonical(params.uri) };
    case 'what-if':
      return { ...params, saved: older(params.saved) };
    case 'compare':
      return { ...params, older: older(params.older) };
    default:
      return params;
  }
}
