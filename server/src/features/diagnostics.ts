/** What is wrong with a file, as the editor shows it. */
import type {
  Diagnostic,
  DiagnosticRelatedInformation,
  DiagnosticSeverity,
  DiagnosticTag,
} from 'vscode-languageserver-types';
import type { Problem, Severity } from '../../../schemas/problem.ts';
import type { Book } from '../book/book.ts';
import type { BookFile } from '../book/file.ts';
import type { Estimates } from '../estimate/estimates.ts';
import { type Found, problemsOf } from '../estimate/problems.ts';
import { definitionLocation } from './spot.ts';

const SOURCE = 'gearquill';

const SEVERITIES: Readonly<Record<Severity, DiagnosticSeverity>> = {
  error: 1,
  warning: 2,
  information: 3,
  hint: 4,
};

const TAGS: Readonly<Record<NonNullable<Problem['tags']>[number], DiagnosticTag>> = {
  unnecessary: 1,
  deprecated: 2,
};

/** No one reads more of one file, and editors show no more. */
const MOST = 1000;
/** Other places that one problem names. */
const MOST_RELATED = 10;

/** `codePages`: what stands before `<code>.md` in the address of a code's page; no address when left out. */
export function diagnostics(estimates: Estimates, file: BookFile, codePages?: string): Diagnostic[] {
  if (!isOfBook(file)) return [];
  const found = problemsOf(estimates, file);
  const shown = found.length > MOST ? mostSevere(found) : found;
  return shown.map((one) => diagnosticOf(estimates.book, file, one, codePages));
}

/** A YAML file that says no kind, and has no name of ours, is someone else's. */
function isOfBook(file: BookFile): boolean {
  return file.kind !== undefined || file.entryAt(['kind']) !== undefined;
}

function mostSevere(found: readonly Found[]): readonly Found[] {
  return found
    .toSorted((a, b) => SEVERITIES[a.problem.severity] - SEVERITIES[b.problem.severity])
    .slice(0, MOST);
}

function diagnosticOf(book: Book, file: BookFile, { problem, piece, start, end }: Found, codePages?: string) {
  const { code, severity, message, path, onKey, tags, data } = problem;
  const range = file.source.rangeOf(piece, { start, end });
  const diagnostic: Diagnostic = {
    range,
    severity: SEVERITIES[severity],
    code,
    source: SOURCE,
    message,
    data: { path, ...(onKey ? { onKey } : {}), ...data },
  };
  if (codePages !== undefined) diagnostic.codeDescription = { href: `${codePages}${code}.md` };
  if (tags && tags.length > 0) diagnostic.tags = tags.map((tag) => TAGS[tag]);
  const related = relatedOf(book, problem).filter(
    ({ location }) => location.uri !== file.uri || location.range.start.line !== range.start.line,
  );
  if (related.length > 0) diagnostic.relatedInformation = related.slice(0, MOST_RELATED);
  return diagnostic;
}

function relatedOf(book: Book, { related = [] }: Problem): DiagnosticRelatedInformation[] {
  return related.flatMap(({ kind, id, message }) =>
    book.registry.definitions(kind, id).flatMap((definition) => {
      const location = definitionLocation(definition);
      return location ? [{ location, message }] : [];
    }),
  );
}
