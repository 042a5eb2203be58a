/** What is wrong with a job's papers: consent, and what the law wants an estimate or an invoice to hold. */
import type { Job } from '../../../schemas/kinds/job.ts';
import type { Problem } from '../../../schemas/problem.ts';
import { type Decimal, ZERO } from '../../../schemas/values/decimal.ts';
import { formatMoney } from '../../../schemas/values/money.ts';
import type { Policy, Priced, PricedLine } from '../pricing/model.ts';
import type { ConsentInput, Paper, PaperKind, PaperLine } from '../work/index.ts';
import { consentProblems, contentProblems, disclosureProblems } from '../work/index.ts';
import type { BookCatalog } from './catalog.ts';
import type { JobEstimate, OptionEstimate } from './estimate.ts';

export function paperProblems(estimate: JobEstimate, catalog: BookCatalog): Problem[] {
  const { policy, chosen, options, teardown, job } = estimate;
  const law = policy.jurisdiction;
  // Without a choice each option is an estimate that could be handed over.
  const declined = job.teardown?.declined !== undefined;
  const looked = declined ? [] : chosen ? [chosen] : options;
  const problems: Problem[] = [];
  if (law) {
    for (const option of looked) {
      problems.push(...contentProblems(paper(estimate, catalog, 'estimate', option.priced), law));
      problems.push(...warrantyProblems(estimate, option, catalog));
    }
    if (teardown) problems.push(...contentProblems(teardownPaper(estimate, catalog, teardown), law));
    if (job.completed && chosen)
      problems.push(...contentProblems(paper(estimate, catalog, 'invoice', chosen.priced), law));
  }
  if (chosen) problems.push(...consentProblems(consentInput(estimate, chosen), catalog));
  return problems;
}

function consentInput(estimate: JobEstimate, option: OptionEstimate): ConsentInput {
  const { job, policy, teardown } = estimate;
  const declined = job.teardown?.declined !== undefined && teardown;
  return {
    job,
    law: policy.jurisdiction,
    charge: chargeOf(declined ? teardown.declined : option.priced),
    teardown: teardown && chargeOf(teardown.declined),
    itemised: policy.shop.tax?.billing !== 'lump-sum',
    lines: option.works,
    share: shareOf(estimate, option),
    format: (amount) => formatMoney(amount, policy.currency, policy.shop.locale ?? 'en-US'),
  };
}

/** Whether what a job comes to is more than was authorized, by the rules of its place. */
export function overAuthorized(job: Job, policy: Policy, priced: Priced): Problem | undefined {
  const input: ConsentInput = {
    job,
    law: policy.jurisdiction,
    charge: chargeOf(priced),
    itemised: policy.shop.tax?.billing !== 'lump-sum',
    lines: [],
    format: (amount) => formatMoney(amount, policy.currency, policy.shop.locale ?? 'en-US'),
  };
  return consentProblems(input, { role: () => undefined }).find(({ code }) => code === 'over-authorized');
}

function chargeOf(priced: Priced) {
  const tax = priced.tax.amount.value;
  return { net: priced.total.value.minus(tax), tax };
}

/** What is left to the customer where others pay, and the lines that nobody else covers. */
function shareOf({ job }: JobEstimate, { priced }: OptionEstimate): ConsentInput['share'] {
  if (!job.payers?.length) return undefined;
  const notCovered = priced.lines
    .filter((line) => line.owners.every((owner) => owner.payer === undefined) && !line.net.value.eq(ZERO))
    .map((line) => line.name);
  return { customer: priced.shares[0]?.total.value ?? ZERO, notCovered: [...new Set(notCovered)] };
}

function warrantyProblems({ policy }: JobEstimate, option: OptionEstimate, catalog: BookCatalog): Problem[] {
  const plan = option.warranty === undefined ? undefined : catalog.warranty(option.warranty);
  if (!plan || !policy.jurisdiction) return [];
  const path = option.path.length > 0 ? [...option.path, 'warranty'] : ['warranty'];
  return disclosureProblems(
    { plan, path, price: option.priced.subtotal.value, shop: policy.shop },
    policy.jurisdiction,
  );
}

function paper(estimate: JobEstimate, catalog: BookCatalog, kind: PaperKind, priced: Priced): Paper {
  const { job, policy, customer } = estimate;
  return {
    kind,
    handedOver: kind === 'invoice' ? job.completed !== undefined : job.presented !== undefined,
    shop: policy.shop,
    customer: customer?.name,
    job,
    lines: priced.lines.flatMap((line) => paperLine(line, estimate, catalog)),
    claim: job.follows !== undefined,
    supplies: suppliesOf(priced, policy.shop.supplies?.on ?? []),
    totals: {
      subtotals: [...priced.subtotals.values()].map((amount) => amount.value),
      tax: priced.tax.amount.value,
      total: priced.total.value,
      lumpSum: policy.shop.tax?.billing === 'lump-sum',
    },
  };
}

function teardownPaper(
  estimate: JobEstimate,
  catalog: BookCatalog,
  { teardown, declined }: NonNullable<JobEstimate['teardown']>,
): Paper {
  const own = paper(estimate, catalog, 'teardown-estimate', teardown);
  const more = declined.lines.filter(({ path }) => path[1] === 'if-declined');
  return {
    ...own,
    handedOver: estimate.job.authorizations?.some((one) => one.for === 'teardown') ?? false,
    lines: [
      ...own.lines,
      ...more
        .flatMap((line) => paperLine(line, estimate, catalog))
        .map((line) => ({ ...line, ifDeclined: true })),
    ],
  };
}

/** Payers whose share is work under a warranty. */
const WARRANTORS: ReadonlySet<string | undefined> = new Set(['shop', 'warranty']);

const SORTS: Readonly<Record<PricedLine['kind'], PaperLine['sort'] | undefined>> = {
  part: 'part',
  fill: 'part',
  labor: 'service',
  sublet: 'sublet',
  fee: 'fee',
  other: 'service',
  core: undefined,
  supplies: undefined,
  minimum: 'service',
  warranty: 'fee',
};

function paperLine(line: PricedLine, { policy }: JobEstimate, catalog: BookCatalog): PaperLine[] {
  const sort = line.kind === 'other' && line.category === 'parts' ? 'part' : SORTS[line.kind];
  if (!sort) return [];
  const part = line.kind === 'part' && line.id !== undefined ? catalog.part(line.id) : undefined;
  return [
    {
      path: line.path,
      name: line.name,
      sort,
      amount: priceOf(line),
      condition: line.condition,
      fluid: line.kind === 'fill' || part?.kind === 'fluid',
      supplied: line.suppliedByCustomer,
      contents: part?.contents?.map((one) =>
        one.part === undefined ? undefined : catalog.part(one.part)?.condition,
      ),
      supplier: supplierOf(line, catalog),
      underWarranty: line.owners.some(
        ({ payer }) => payer !== undefined && WARRANTORS.has(policy.shop.payers?.[payer]?.kind),
      ),
      waste: line.kind === 'fee' && line.id !== undefined ? policy.shop.fees?.[line.id]?.waste : undefined,
    },
  ];
}

function priceOf(line: PricedLine): Decimal | undefined {
  const unpriced =
    line.each === undefined && line.amount.value.eq(ZERO) && (line.kind === 'part' || line.kind === 'fill');
  return unpriced && !line.suppliedByCustomer ? undefined : line.amount.value;
}

function supplierOf(line: PricedLine, catalog: BookCatalog): string | undefined {
  if (line.line && 'sublet' in line.line) return line.line.supplier;
  return line.kind === 'sublet' && line.id !== undefined
    ? catalog.operation(line.id)?.sublet?.supplier
    : undefined;
}

function suppliesOf(priced: Priced, basis: readonly string[]): Paper['supplies'] {
  const line = priced.lines.find((one) => one.kind === 'supplies');
  return line && { amount: line.amount.value, basis };
}
