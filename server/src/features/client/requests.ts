/** What the editor's own face asks beside the plain protocol. Every answer is plain JSON; null for a file that is not known. */
import type { RefKind } from '../../../../schemas/declare.ts';
import type { BookFile } from '../../book/file.ts';
import type { Estimates } from '../../estimate/estimates.ts';
import { type PapersView, papersView } from '../paper/print.ts';
import { type BookNode, bookTree } from './book-tree.ts';
import { type CaseOutcome, type CaseView, caseOutcomes, casesView } from './cases-view.ts';
import { type CheckReport, checkReport } from './check-report.ts';
import { codePage } from './code-page.ts';
import { type EntryView, entriesView } from './entries.ts';
import { type EstimateView, estimateView } from './estimate-view.ts';
import { type FigureTree, figureTree } from './figures.ts';

/** What is asked and what is answered, by method. */
export interface Requests {
  'gearquill/estimate': [{ uri: string }, EstimateView];
  'gearquill/figure': [{ uri: string; sale: string; figure: string }, FigureTree];
  'gearquill/papers': [{ uri: string }, PapersView];
  /** The name of the shop whose rules hold for a file. */
  'gearquill/shop': [{ uri: string }, string];
  'gearquill/bookTree': [{ node?: string }, BookNode[]];
  'gearquill/entries': [{ uri?: string; kind: RefKind; query?: string; most?: number }, EntryView[]];
  'gearquill/check': [Record<string, never>, CheckReport];
  'gearquill/codePage': [{ code: string }, string];
  'gearquill/cases': [{ uri: string }, CaseView[]];
  'gearquill/runCases': [{ uri: string; ids?: readonly string[] }, CaseOutcome[]];
}
export type Method = keyof Requests;

export type Books = readonly Estimates[];

export const REQUESTS: {
  readonly [M in Method]: (books: Books, params: Requests[M][0]) => Requests[M][1] | null;
} = {
  'gearquill/estimate': (books, { uri }) => at(books, uri, estimateView),
  'gearquill/figure': (books, { uri, sale, figure }) =>
    at(books, uri, (estimates, file) => figureTree(estimates, file, sale, figure)),
  'gearquill/papers': (books, { uri }) => at(books, uri, papersView),
  'gearquill/shop': (books, { uri }) => at(books, uri, ({ book }) => book.shopOf(uri)?.shop.name),
  'gearquill/bookTree': (books, { node }) => bookTree(books, node),
  'gearquill/entries': (books, { uri, kind, query, most }) => {
    const book = books.find((one) => uri !== undefined && one.book.file(uri)) ?? books[0];
    return book ? entriesView(book.book, kind, query, most) : [];
  },
  'gearquill/check': (books) => checkReport(books),
  'gearquill/codePage': (_, { code }) => codePage(code) ?? null,
  'gearquill/cases': (books, { uri }) => at(books, uri, (_, file) => casesView(file)),
  'gearquill/runCases': (books, { uri, ids }) =>
    at(books, uri, (estimates, file) => caseOutcomes(estimates, file, ids)),
};

function at<T>(
  books: Books,
  uri: string,
  answer: (estimates: Estimates, file: BookFile) => T | undefined,
): T | null {
  for (const estimates of books) {
    const file = estimates.book.file(uri);
    if (file) return answer(estimates, file) ?? null;
  }
  return null;
}
