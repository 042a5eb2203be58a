/**
 * The owner's answer, one line that survives a telephone and a mail program:
 *
 *     J-1076 / overhaul / without HOS-B6 / 6359.67 USD / by Ada Reed / 7KQ4-M2XD-9PTW
 *
 * The last word is drawn from the job, its prices and what was picked. Whoever records an answer has the engine work it
 * out anew: a total that was changed on the way, or prices that have changed since, do not match.
 */
import { type Decimal, dec } from '../../../../schemas/values/decimal.ts';
import { parseMoney } from '../../../../schemas/values/money.ts';
import { didYouMean } from '../../../../schemas/values/words.ts';
import type { JobEstimate, OptionEstimate } from '../../estimate/estimate.ts';
import type { Source } from '../source.ts';
import { answersOf, type Extra } from './variants.ts';

export interface Answer {
  readonly job: string;
  /** Undefined for a job without options. */
  readonly option: string | undefined;
  readonly without: readonly string[];
  readonly total: Decimal;
  readonly currency: string;
  readonly by: string | undefined;
  readonly code: string;
}

/** Where the page puts the name in. */
export const NAME = '{name}';
/** A job without options answers with this in the option's place. */
const PLAIN = 'estimate';

export async function answerText(
  { job, policy }: JobEstimate,
  option: OptionEstimate,
  left: readonly Extra[],
): Promise<string> {
  const picked = left.length === 0 ? 'all' : `without ${left.map((extra) => extra.id).join(' + ')}`;
  return [
    job.id ?? '',
    option.id ?? PLAIN,
    picked,
    `${option.priced.total.value} ${policy.currency}`,
    `by ${NAME}`,
    await codeOf(job.id ?? '', policy.currency, option, left),
  ].join(' / ');
}

/** Twelve letters and digits of SHA-256 over everything that was offered. */
export async function codeOf(
  job: string,
  currency: string,
  { id, priced, warranty }: OptionEstimate,
  left: readonly Extra[],
): Promise<string> {
  const offered = JSON.stringify([
    job,
    id ?? null,
    left.map((extra) => extra.id),
    warranty ?? null,
    currency,
    priced.lines.map((line) => [
      line.id ?? line.kind,
      line.name,
      line.quantity.value,
      line.unit,
      line.net.value,
    ]),
    priced.discounts.map((one) => [one.name, one.amount.value]),
    priced.tax.rows.map((row) => [row.name, row.rate, row.amount.value]),
    priced.total.value,
  ]);
  const digest = await crypto.subtle.digest('SHA-256', new TextEncoder().encode(offered));
  return spelled(new Uint8Array(digest));
}

/** Letters and digits that are not mistaken for each other when read aloud (no I, L, O, U). */
const ALPHABET = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';

function spelled(bytes: Uint8Array): string {
  let bits = 0n;
  for (const byte of bytes.slice(0, 8)) bits = (bits << 8n) | BigInt(byte);
  let out = '';
  for (let i = 0; i < 12; i++) out = ALPHABET[Number((bits >> BigInt(i * 5)) & 31n)]! + out;
  return out.replaceAll(/(.{4})(?=.)/g, '$1-');
}

/** The answer in a text that may have been wrapped or quoted, or why there is none. */
export function readAnswer(text: string): Answer | { readonly message: string } {
  const flat = text
    .replaceAll(/^[>\s]+/gm, ' ')
    .replaceAll(/\s+/g, ' ')
    .trim();
  const parts = flat.split('/').map((part) => part.trim());
  if (parts.length !== 6)
    return {
      message: `This is not an answer: it has ${parts.length} parts between its slashes, not 6. Copy the whole line, such as: J-1076 / overhaul / all / 6507.91 USD / by Ada Reed / 7KQ4-M2XD-9PTW`,
    };
  const [job, option, picked, sum, by, code] = parts as [string, string, string, string, string, string];
  const money = /^(\S+) ([A-Za-z]{3})$/.exec(sum);
  const amount = money && parseMoney(money[1]!, 4);
  if (!money || !amount?.ok)
    return { message: `"${sum}" is not a total, such as 6507.91 USD. Copy the whole line.` };
  const left = /^without (.+)$/i.exec(picked);
  if (!left && picked.toLowerCase() !== 'all')
    return { message: `"${picked}" does not say what is left out. It is "all", or "without" and what.` };
  const name = by.replace(/^by\b/i, '').trim();
  return {
    job,
    option: option.toLowerCase() === PLAIN ? undefined : option,
    without: left ? left[1]!.split('+').map((one) => one.trim()) : [],
    total: dec(amount.value.toString()),
    currency: money[2]!.toUpperCase(),
    by: name === '' || name === NAME ? undefined : name,
    code: code
      .toUpperCase()
      .replaceAll(/[^0-9A-Z]/g, '')
      .replaceAll('O', '0')
      .replaceAll(/[IL]/g, '1')
      .replaceAll(/(.{4})(?=.)/g, '$1-'),
  };
}

export interface Held {
  readonly option: OptionEstimate;
  readonly left: readonly Extra[];
}

/** Holds an answer against the job as it stands: what was picked, or why the answer cannot be taken. */
export async function holdAnswer(
  source: Source,
  answer: Answer,
): Promise<Held | { readonly message: string }> {
  const { estimate } = source;
  const { job, policy } = estimate;
  if (answer.job !== job.id)
    return { message: `This answer is for job ${answer.job}, and this is job ${job.id}.` };
  const offered = answersOf(source);
  const picked = offered.find(({ option }) => option.id === answer.option);
  if (!picked) {
    const known = offered.map(({ option }) => option.id ?? PLAIN);
    const near = didYouMean(answer.option ?? '', known);
    return {
      message: `This job has no option "${answer.option}". It has: ${known.join(', ')}.${near.length > 0 ? ` Did you mean ${near[0]}?` : ''}`,
    };
  }
  const unknown = answer.without.find((id) => !picked.extras.some((extra) => extra.id === id));
  if (unknown !== undefined)
    return {
      message: `"${unknown}" is not something that can be left out of this option. The job may have changed; print the page anew and ask again.`,
    };
  const left = picked.extras.filter((extra) => answer.without.includes(extra.id));
  const mask = picked.extras.reduce(
    (bits, extra, bit) => (left.includes(extra) ? bits | (1 << bit) : bits),
    0,
  );
  const option = picked.variants[mask]!;
  const code = await codeOf(job.id ?? '', policy.currency, option, left);
  const total = option.priced.total.value;
  if (answer.currency !== policy.currency || !answer.total.eq(total))
    return {
      message: `The answer says ${answer.total} ${answer.currency}, and the estimate comes to ${total} ${policy.currency}. ${answer.code === code ? 'The total was changed after the page was made' : 'The estimate was changed after the page was made, or the total was'}: ask the owner again with a new page.`,
    };
  if (answer.code !== code)
    return {
      message: `The total is right, but the code ${answer.code} is not that of this estimate (${code}): the job has changed since the page was made, or a letter was misread. Ask the owner again.`,
    };
  return { option, left };
}
