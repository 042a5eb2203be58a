/** What a written warranty has to tell before the sale. */
import { DISCLOSURES, type Disclosure, type Jurisdiction } from '../../../../schemas/kinds/jurisdiction.ts';
import type { Shop, Warranty } from '../../../../schemas/kinds/shop.ts';
import type { Path, Problem } from '../../../../schemas/problem.ts';
import { type Decimal, ZERO } from '../../../../schemas/values/decimal.ts';

export interface PromisedPlan {
  readonly plan: Warranty;
  /** Where the job names it. */
  readonly path: Path;
  /** What is sold under it. */
  readonly price: Decimal;
  readonly shop: Pick<Shop, 'name' | 'address'>;
}

/** One problem that names everything the plan does not tell. */
export function disclosureProblems(promised: PromisedPlan, law: Jurisdiction): Problem[] {
  const rule = law.warranty;
  if (!rule || promised.price.lte(rule['disclosed-above'] ?? ZERO)) return [];
  const lacking = rule.must.filter((one) => !TOLD[one](promised));
  if (lacking.length === 0) return [];
  const source = rule.source ? ` (${rule.source})` : '';
  const words = lacking.map((one) => DISCLOSURES[one].replace(/\.$/, '')).join('; ');
  return [
    {
      code: 'warranty-does-not-tell',
      severity: 'warning',
      message: `${promised.plan.name} does not tell what a written warranty has to: ${words}${source}. Write it at the plan. Check your local rules.`,
      path: promised.path,
      data: { lacking },
    },
  ];
}

const TOLD: Readonly<Record<Disclosure, (promised: PromisedPlan) => boolean>> = {
  who: ({ shop }) => Boolean(shop.name && shop.address?.length),
  parts: ({ plan }) => Boolean(plan.includes?.length && plan.excludes?.length),
  remedy: ({ plan }) => plan.covers !== undefined,
  duration: ({ plan }) => plan.months > 0 || plan.distance !== undefined,
  claim: ({ plan }) => plan.claim !== undefined,
};

/** What the warranty has to be called: a full one says how long it lasts. */
export function designationOf(plan: Warranty): string {
  return plan.designation === 'full' ? `Full ${plan.months}-month warranty` : 'Limited warranty';
}
