/** Core charges: what the customer is charged for the old part, and how the jurisdiction taxes it. */
import type { CoreTax } from '../../../schemas/kinds/jurisdiction.ts';
import type { Part } from '../../../schemas/kinds/parts.ts';
import type { Condition } from '../../../schemas/kinds/shared.ts';
import { type Decimal, ZERO } from '../../../schemas/values/decimal.ts';
import { type Amount, follows, given, nothing, product, rounded } from './amount.ts';
import { type Charge, charge, reduce } from './charge.ts';
import { type Context, entry, money, report } from './context.ts';
import type { CoreEntry } from './model.ts';

export type CorePolicy = CoreEntry['policy'];

/** The policy that holds for a line: its own, else the shop's, else charged. */
export function corePolicy(context: Context, sold: Pick<Charge, 'line'>): CorePolicy {
  const own = sold.line && 'core' in sold.line ? sold.line.core : undefined;
  return own ?? context.shop.cores ?? 'charged';
}

/** The core charge that goes with a part that is sold, as a line of its own. */
export function coreCharges(context: Context, sold: Charge, part: Part, core: Amount | undefined): Charge[] {
  checkMinimum(context, sold, core?.value ?? ZERO);
  if (!core || core.value.eq(ZERO)) return [];
  const policy = corePolicy(context, sold);
  const amount = rounded(product('Core charge', [sold.quantity, core]), context.places);
  const tax = coreTaxOf(context, sold.condition);
  const line = charge({
    kind: 'core',
    path: sold.path,
    line: sold.line,
    from: sold.from,
    name: `Core, ${sold.name}`,
    id: sold.id,
    category: 'cores',
    coverage: 'cores',
    taxClass: 'cores',
    condition: sold.condition,
    quantity: sold.quantity,
    unit: sold.unit,
    each: core,
    amount: policy === 'charged' || policy === 'exchanged' ? amount : withheld(policy, amount),
    cost: nothing('Cost', 'passed on to the supplier'),
    order: sold.order,
    coreTaxed: tax && tax.charge === 'taxed',
  });
  if (policy === 'charged') {
    warnOfOwnUnit(context, sold, part, amount.value);
    return [line];
  }
  if (policy !== 'exchanged') return [line];
  return [
    reduce(line, {
      kind: 'core-handed-over',
      name: 'Old part handed over',
      amount: given('Old part handed over', amount.value, { note: 'worth its core charge' }),
      fundedBy: 'customer',
      taxed: tax?.exchange !== 'net',
    }),
  ];
}

function withheld(policy: 'when-late' | 'held', amount: Amount): Amount {
  const why =
    policy === 'held' ? 'the old part stays in the shop' : 'charged only when it does not come back in time';
  return follows('Core charge', ZERO, [amount], why);
}

/** How a core is taxed, by the condition of the part sold. */
export function coreTaxOf(context: Context, condition: Condition | undefined): CoreTax | undefined {
  const { jurisdiction } = context;
  const counts = condition ?? (jurisdiction?.words?.['unstated-condition'] === 'new' ? 'new' : undefined);
  return (counts && jurisdiction?.cores?.[counts]) ?? jurisdiction?.cores?.default;
}

function checkMinimum(context: Context, sold: Charge, each: Decimal): void {
  const minimum =
    sold.role === undefined ? undefined : entry(context.jurisdiction?.['core-minimums'], sold.role);
  if (minimum === undefined || each.gte(minimum)) return;
  report(
    context,
    'error',
    'core-below-minimum',
    sold.path,
    `${context.jurisdiction!.name} asks for a core charge of at least ${money(context, minimum)} on ${sold.name}; it is ${money(context, each)}. Raise the core charge of the part.`,
    { related: sold.id === undefined ? [] : [{ kind: 'part', id: sold.id, message: 'Its core charge.' }] },
  );
}

/** The unit that comes out here is the core: charging a deposit on it asks for money that is owed straight back. */
function warnOfOwnUnit(context: Context, sold: Charge, part: Part, amount: Decimal): void {
  const said = sold.line !== undefined && 'core' in sold.line && sold.line.core !== undefined;
  if (said || part.kind !== 'unit' || !takenOutHere(context)) return;
  report(
    context,
    'warning',
    'core-never-leaves',
    sold.path,
    `The customer's own unit is taken out on this job and is the core, yet ${money(context, amount)} is charged for it. Write \`core: held\`, or \`core: charged\` when it is meant.`,
    { data: { core: 'held' } },
  );
}

function takenOutHere(context: Context): boolean {
  return context.sale.lines.some(
    ({ line }) => 'operation' in line && context.catalog.operation(line.operation)?.work === 'removal',
  );
}
