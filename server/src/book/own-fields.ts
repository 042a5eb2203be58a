/** Values of fields that the shop declares, held against what it says of them. */
import type { z } from 'zod';
import { type Carrier, type OwnField, readOwn, readWanted } from '../../../schemas/kinds/own.ts';
import type { Path } from '../../../schemas/problem.ts';
import { type Node, nodeAt, type Span } from '../syntax/node.ts';
import type { Book } from './book.ts';
import type { BookFile } from './file.ts';
import type { Located } from './judge.ts';
import { visit } from './marks.ts';
import { KIND_WORDS, quoted } from './words.ts';

/** The fields that hold for a file: those of its shop, and of what that extends. */
export function ownFieldsFor(book: Book, file: BookFile): Readonly<Record<string, OwnField>> {
  return book.shopOf(file.uri)?.shop.fields ?? {};
}

/** The field of the shop that a key under `own` names. */
export function ownFieldFor(book: Book, file: BookFile, id: string): OwnField | undefined {
  const fields = ownFieldsFor(book, file);
  return Object.hasOwn(fields, id) ? fields[id] : undefined;
}

/** Fields on entries they are not for, and values that are not what the field says. Unknown fields are told elsewhere. */
export function ownProblems(book: Book, file: BookFile, declared: z.ZodType, root: Node): Located[] {
  const problems: Located[] = [];
  visit(declared, root, {
    key: (key, _schema, meta, path) => {
      const field = meta.refers === 'field' ? ownFieldFor(book, file, key.text) : undefined;
      if (!field) return;
      const carrier = meta.carrier as Carrier | undefined;
      if (carrier !== undefined && !field.on.includes(carrier)) {
        const message = `The field ${quoted(key.text)} is not for a ${KIND_WORDS[carrier]}. The shop has it on: ${field.on.join(', ')}.`;
        problems.push(ownProblem('own-field-place', message, key, path, true));
        return;
      }
      const value = nodeAt(root, path);
      if (value.type !== 'scalar') return;
      const message = valueProblem(book, field, value.text, carrier === undefined);
      if (message) problems.push(ownProblem('own-field-value', message, value, path, false));
    },
  });
  return problems;
}

function valueProblem(book: Book, field: OwnField, typed: string, asked: boolean): string | undefined {
  const read = asked ? readWanted(field, typed) : readOwn(field, typed);
  if (!read.ok) return read.message;
  const { names } = field;
  if (field.type !== 'reference' || names === undefined || book.definition(names, typed)) return undefined;
  const near = book.registry.near(names, typed, 1)[0];
  const advice = near === undefined ? '' : ` Did you mean "${near}"?`;
  return `There is no ${KIND_WORDS[names]} ${quoted(typed)} in the book, and ${field.name} names one.${advice}`;
}

function ownProblem(code: string, message: string, span: Span, path: Path, onKey: boolean): Located {
  return { code, severity: 'error', message, path, onKey, start: span.start, end: span.end };
}
