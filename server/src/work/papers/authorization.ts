/** Consent: who agreed to how much, and whether the job has gone beyond it. */
import type { Authorization, Job } from '../../../../schemas/kinds/job.ts';
import type { Jurisdiction } from '../../../../schemas/kinds/jurisdiction.ts';
import type { Path, Problem } from '../../../../schemas/problem.ts';
import { dateOf } from '../../../../schemas/values/dates.ts';
import { type Decimal, ZERO } from '../../../../schemas/values/decimal.ts';
import { roleName } from '../evaluate.ts';
import type { Catalog, WorkLine } from '../model.ts';
import { list } from '../say.ts';
import { type ConsentRule, limitOver } from './limit.ts';

/** A sum before tax and its tax. */
export interface Charge {
  readonly net: Decimal;
  readonly tax: Decimal;
}

export interface ConsentInput {
  readonly job: Pick<Job, 'presented' | 'completed' | 'authorizations' | 'chosen'>;
  readonly law?: Jurisdiction | undefined;
  /** What the chosen option comes to now. */
  readonly charge: Charge;
  /** What the teardown comes to, where it is a sale of its own. */
  readonly teardown?: Charge | undefined;
  /** Whether parts and labor are stated one by one. */
  readonly itemised: boolean;
  /** The lines of the chosen option. */
  readonly lines: readonly WorkLine[];
  /** Where others pay: what is left to the customer, and what they do not cover, in words. */
  readonly share?: { readonly customer: Decimal; readonly notCovered: readonly string[] } | undefined;
  /** As the shop prints an amount. */
  readonly format: (amount: Decimal) => string;
}

export function consentProblems(input: ConsentInput, catalog: Pick<Catalog, 'role'>): Problem[] {
  const rule = input.law?.authorization;
  return [
    ...(rule ? [...overLimit(input, rule), ...notInWriting(input, rule), ...incomplete(input, rule)] : []),
    ...otherOption(input),
    ...declinedOnJob(input, catalog),
    ...shareWithoutConsent(input),
  ];
}

interface Given {
  readonly authorization: Authorization;
  readonly path: Path;
}

function given({ job }: ConsentInput): Given[] {
  return (job.authorizations ?? [])
    .map((authorization, index) => ({ authorization, path: ['authorizations', index] }))
    .toSorted((a, b) => (a.authorization.on < b.authorization.on ? -1 : 1));
}

function latest(input: ConsentInput, ...sorts: NonNullable<Authorization['for']>[]): Given | undefined {
  return given(input).findLast(({ authorization }) => sorts.includes(authorization.for ?? 'work'));
}

/** Work in hand is held against consent to work; a job that is done, against the last consent of any sort. */
function overLimit(input: ConsentInput, rule: ConsentRule): Problem[] {
  const problems: Problem[] = [];
  const done = input.job.completed !== undefined;
  const forWork =
    latest(input, 'work') ?? (done ? latest(input, 'work', 'teardown', 'diagnosis') : undefined);
  if (forWork) problems.push(...over(input, rule, forWork, input.charge, 'The job'));
  else if (done && asCompared(rule, input.charge).gt(rule['applies-above'] ?? ZERO)) {
    problems.push({
      code: 'not-authorized',
      severity: 'error',
      message: `The work is done, and nobody is on record as having authorized it. Write the authorization: who, when, how, and how much.`,
      path: ['completed'],
      onKey: true,
    });
  }
  const forTeardown = latest(input, 'teardown');
  if (forTeardown && input.teardown && !forWork) {
    problems.push(...over(input, rule, forTeardown, input.teardown, 'The teardown'));
  }
  return problems;
}

function asCompared(rule: ConsentRule, { net, tax }: Charge): Decimal {
  return rule.tax === 'included' ? net.plus(tax) : net;
}

function over(
  input: ConsentInput,
  rule: ConsentRule,
  consent: Given,
  charge: Charge,
  what: string,
): Problem[] {
  const { authorization, path } = consent;
  const compared = asCompared(rule, charge);
  const limit = limitOver(rule, authorization.amount, input.itemised);
  if (limit.most === undefined || compared.lte(limit.most)) return [];
  const { format } = input;
  const tax = rule.tax === 'included' ? 'with tax' : 'before tax';
  const sort = authorization.for && authorization.for !== 'work' ? ` for ${authorization.for}` : '';
  const margin = limit.excess.gt(ZERO) ? `, and it may reach ${format(limit.most)} (${limit.text})` : '';
  return [
    {
      code: 'over-authorized',
      severity: 'error',
      message: `${what} comes to ${format(compared)} ${tax}; ${authorization.by} has authorized ${format(authorization.amount)}${sort}${margin}. Ask first, and write the new authorization. Check your local rules.`,
      path: [...path, 'amount'],
      data: { most: limit.most.toString(), charge: compared.toString() },
    },
  ];
}

function notInWriting(input: ConsentInput, rule: ConsentRule): Problem[] {
  const threshold = rule['written-above'];
  const first = given(input).find(({ authorization }) => (authorization.for ?? 'work') === 'work');
  if (!threshold || !first || first.authorization.amount.lte(threshold)) return [];
  const { on, how } = first.authorization;
  const { presented } = input.job;
  // Who signs has the paper in hand.
  if (how === 'signature' || (presented && presented <= dateOf(on))) return [];
  return [
    {
      code: 'estimate-not-written',
      severity: 'warning',
      message: `An estimate over ${input.format(threshold)} has to be in writing before it is authorized. Hand it over, and write the day in \`presented\`. Check your local rules.`,
      path: first.path,
    },
  ];
}

const RECORD_WORDS: Readonly<Record<NonNullable<ConsentRule['record']>[number], string>> = {
  on: 'date and time',
  by: 'who authorized',
  'taken-by': 'who of the shop took it',
  how: 'in what way',
  amount: 'the amount',
  contact: 'the telephone number or address used',
};

function incomplete(input: ConsentInput, rule: ConsentRule): Problem[] {
  return given(input).flatMap(({ authorization, path }): Problem[] => {
    // Whoever stands at the counter has no number.
    const distant = authorization.how !== 'signature' && authorization.how !== 'in-person';
    const lacking = (rule.record ?? []).filter(
      (field) => authorization[field] === undefined && (field !== 'contact' || distant),
    );
    if (lacking.length === 0) return [];
    const words = list(lacking.map((field) => RECORD_WORDS[field]));
    return [
      {
        code: 'authorization-incomplete',
        severity: 'warning',
        message: `This authorization does not say ${words}. ${input.law?.name} asks for it. Check your local rules.`,
        path,
        data: { fields: lacking },
      },
    ];
  });
}

function otherOption(input: ConsentInput): Problem[] {
  const consent = latest(input, 'work');
  const authorized = consent?.authorization.option;
  const { chosen } = input.job;
  if (!consent || authorized === undefined || chosen === undefined || authorized === chosen) return [];
  return [
    {
      code: 'other-option-authorized',
      severity: 'error',
      message: `${consent.authorization.by} authorized the option ${authorized}, but ${chosen} is chosen. Ask again, or correct one of them.`,
      path: [...consent.path, 'option'],
    },
  ];
}

function declinedOnJob(input: ConsentInput, catalog: Pick<Catalog, 'role'>): Problem[] {
  const consent = latest(input, 'work');
  return (consent?.authorization.declined ?? []).flatMap((role) => {
    const line = input.lines.find((one) =>
      one.fills.some((fill) => fill.role === role && fill.quantity.gt(ZERO)),
    );
    if (!line) return [];
    return [
      {
        code: 'declined-on-job',
        severity: 'error',
        message: `${consent!.authorization.by} declined ${roleName(catalog, role)}, but ${line.name} is still on the job. Take it off, or write the new consent.`,
        path: line.path,
      } satisfies Problem,
    ];
  });
}

/** What others do not pay is the customer's, who has to know before anything is opened. */
function shareWithoutConsent(input: ConsentInput): Problem[] {
  const { share, job } = input;
  if (!share?.customer.gt(ZERO)) return [];
  const opens = input.lines.some((line) =>
    line.does.some(({ work }) => work === 'removal' || work === 'teardown'),
  );
  const consent = latest(input, 'work', 'teardown');
  if ((!opens && !job.completed) || consent?.authorization.amount.gte(share.customer)) return [];
  const covered = share.notCovered.length > 0 ? ` (not covered: ${list(share.notCovered)})` : '';
  return [
    {
      code: 'share-without-consent',
      severity: job.completed ? 'error' : 'warning',
      message: `${input.format(share.customer)} stays with the customer${covered}. Have that authorized before the unit is opened: the payer decides only after.`,
      path: ['payers'],
      onKey: true,
    },
  ];
}
