/** An owner's answer, checked against the job and written into it. */
import { parseDateTime } from '../../../../schemas/values/dates.ts';
import type { BookFile } from '../../book/file.ts';
import type { Estimates } from '../../estimate/estimates.ts';
import { holdAnswer, readAnswer } from '../../print/answer/answer.ts';
import { recordedAnswer } from '../../print/answer/record.ts';
import { printerFor } from '../../print/locale.ts';
import { sourceOf } from '../../print/source.ts';
import { type BookEdit, Refusal } from '../edit.ts';
import { lineEdits } from './line-edits.ts';

export interface AnswerAsked {
  readonly uri: string;
  /** The line that the customer page gives; it may be wrapped or quoted. */
  readonly text: string;
  /** Left out: the answer is only checked. */
  readonly given?:
    | {
        readonly by: string;
        readonly how: 'signature' | 'in-person' | 'telephone' | 'email' | 'text';
        readonly takenBy?: string | undefined;
        readonly contact?: string | undefined;
      }
    | undefined;
}

export interface AnswerHeld {
  /** Who gave it, when the line says. */
  readonly by: string | null;
  readonly option: string;
  /** As on the page: with tax. */
  readonly total: string;
  /** Recommended work that was left out, by name. */
  readonly left: readonly string[];
}

export interface AnswerRecorded extends AnswerHeld {
  /** One sentence: who chose what, for how much. */
  readonly summary: string;
  readonly edit: BookEdit;
}

/** Refuses an answer that was changed on the way, is for another version of the estimate, or is for another job. */
export async function answerFor(
  estimates: Estimates,
  file: BookFile,
  { text, given }: AnswerAsked,
  now: string,
): Promise<AnswerHeld | AnswerRecorded> {
  const source = sourceOf(estimates, file);
  if (!source) throw new Refusal('Answers are recorded in jobs. Open the job that it is for, and ask again.');
  const answer = readAnswer(text);
  if ('message' in answer) throw new Refusal(answer.message);
  const held = await holdAnswer(source, answer);
  if ('message' in held) throw new Refusal(held.message);
  const view: AnswerHeld = {
    by: answer.by ?? null,
    option: held.option.name,
    total: printerFor(source.estimate).money(held.option.priced.total.value),
    left: held.left.map(({ name }) => name),
  };
  if (!given) return view;
  const on = parseDateTime(now);
  if (!on.ok) throw new Refusal(on.message);
  const recorded = recordedAnswer(source, file, held, { ...given, on: on.value });
  if (!recorded)
    throw new Refusal(
      'The answer is right, but this job is written in a way that cannot be changed from here. Write the authorization by hand.',
    );
  const label = `The answer of ${given.by}`;
  const edits = lineEdits(file.source.text(), recorded.text).map((edit) => ({ ...edit, label }));
  return { ...view, summary: recorded.summary, edit: [{ file, edits }] };
}
