/** `gearquill/prices`: long work in slices, told as it goes, that the one who asked may cancel. */
import type { CancellationToken, WorkDoneProgressParams, WorkspaceEdit } from 'vscode-languageserver';
import { canonical } from '../book/paths.ts';
import { Refusal } from '../features/edit.ts';
import { type PricesAsked, type PricesFound, prices } from '../features/upkeep/prices.ts';
import { answered } from './answering.ts';
import { today } from './day.ts';
import { workspaceEdit } from './edits.ts';
import { working } from './progress.ts';
import type { Session } from './session.ts';
import { inSlices } from './slices.ts';

export const PRICES = 'gearquill/prices';

export type PricesAnswer = Omit<PricesFound, 'edit'> & { readonly edit: WorkspaceEdit };

export function answerPrices(session: Session): void {
  session.connection.onRequest(
    PRICES,
    (params: PricesAsked & WorkDoneProgressParams, token: CancellationToken) =>
      answered(session, PRICES, token, () =>
        working(session, params.workDoneToken, 'Taking in the price file', (tell) =>
          taken(session, params, token, tell),
        ),
      ),
  );
}

async function taken(
  session: Session,
  params: PricesAsked,
  token: CancellationToken,
  tell: (percent: number) => void,
): Promise<PricesAnswer | null> {
  const book = session.bookAround(params.uri) ?? (session.books.length === 1 ? session.books[0] : undefined);
  if (!book)
    throw new Refusal(
      session.books.length === 0
        ? 'There is no shop book in this folder to hold the price file against.'
        : 'There are several shop books here. Copy the price file into the one it is for.',
    );
  const { addNew } = params;
  const asked = addNew ? { ...params, addNew: { ...addNew, catalog: canonical(addNew.catalog) } } : params;
  const steps = prices(book, asked, today());
  const found = await inSlices(book, steps, token, 'Take the price file in again.', tell);
  return found && { ...found, edit: workspaceEdit(session, found.edit) };
}
