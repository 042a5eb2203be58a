/** Kits: priced by themselves or by their contents, and never billed beside what they hold. */
import type { Part } from '../../../schemas/kinds/parts.ts';
import type { Path } from '../../../schemas/problem.ts';
import { type Decimal, ONE, ZERO } from '../../../schemas/values/decimal.ts';
import { type Amount, given, product, rounded, sumOf } from './amount.ts';
import type { Charge } from './charge.ts';
import { type Context, money, report } from './context.ts';
import { pricesOn } from './history.ts';
import type { Catalog } from './model.ts';
import { chainOf } from './supersession.ts';
import { type UnitPrice, unitPrice } from './unit-price.ts';

/** One of a kit at the sum of its contents, each by its own price. Numbers in `within` hold this kit themselves. */
export function contentsPrice(
  context: Context,
  id: string,
  part: Part,
  path: Path,
  within: readonly string[] = [],
): UnitPrice {
  const prices: Amount[] = [];
  const costs: (Amount | undefined)[] = [];
  for (const content of part.contents ?? []) {
    const chain = content.part === undefined ? undefined : chainOf(context.catalog, content.part, context.on);
    if (!chain || within.includes(chain.id) || chain.id === id) {
      unpricedContent(context, id, part, path, content.part === undefined);
      continue;
    }
    const inner = chain.part['kit-price'] === 'contents';
    const one = inner
      ? contentsPrice(context, chain.id, chain.part, path, [...within, id])
      : unitPrice(context, chain.id, chain.part, {}, path);
    const often = (content.quantity ?? ONE).times(chain.factor);
    if (one.each) prices.push(times(chain.part.name, one.each, often));
    costs.push(one.cost && times(chain.part.name, one.cost, often));
  }
  const { core } = pricesOn(part, context.on);
  const known = costs.filter((cost) => cost !== undefined);
  return {
    each: rounded(sumOf('Price each', prices, { note: 'the sum of its contents' }), context.places),
    ending: undefined,
    cost: known.length === costs.length ? sumOf('Cost', known) : undefined,
    core: core && given('Core charge', core, { source: { kind: 'part', id, field: 'core' } }),
  };
}

function times(label: string, amount: Amount, often: Decimal): Amount {
  return product(label, [given('Quantity', often, { measure: 'number' }), amount]);
}

function unpricedContent(context: Context, id: string, part: Part, path: Path, byRole: boolean): void {
  context.complete = false;
  if (!byRole) return;
  report(
    context,
    'error',
    'kit-content-without-part',
    path,
    `${part.name} is priced by its contents, but one of them is only a role and has no price. Name its part, or give the kit its own price.`,
    { related: [{ kind: 'part', id, message: 'Its contents.' }] },
  );
}

/** Every number in a kit, those of kits inside it included, and roles of contents that have no number. */
export function contentsOf(
  catalog: Pick<Catalog, 'part'>,
  part: Part,
): { parts: Set<string>; roles: Set<string> } {
  const parts = new Set<string>();
  const roles = new Set<string>();
  const visit = (kit: Part): void => {
    for (const content of kit.contents ?? []) {
      if (content.part === undefined) {
        if (content.role !== undefined) roles.add(content.role);
        continue;
      }
      if (parts.has(content.part)) continue;
      parts.add(content.part);
      const inner = catalog.part(content.part);
      if (inner) visit(inner);
    }
  };
  visit(part);
  return { parts, roles };
}

/** Warns of parts that are billed beside a kit that holds them. */
export function warnOfKitContents(context: Context, charges: readonly Charge[]): void {
  const sold = charges.filter(
    (one) => one.kind === 'part' && one.id !== undefined && !one.suppliedByCustomer,
  );
  for (const kit of sold) {
    const part = context.catalog.part(kit.id!);
    if (!part?.contents) continue;
    const held = contentsOf(context.catalog, part);
    for (const other of sold) {
      if (other === kit || other.amount.value.lte(ZERO) || isExplained(other)) continue;
      const twice =
        (other.numbers ?? [other.id!]).some((number) => held.parts.has(number)) ||
        (other.role !== undefined && held.roles.has(other.role));
      if (!twice) continue;
      report(
        context,
        'warning',
        'part-inside-kit',
        other.path,
        `${other.name} is inside ${kit.name}, which is on the job: ${money(context, other.amount.value)} is billed twice. Take this line out, or say in \`reason\` why it is needed besides.`,
        {
          related: [{ kind: 'part', id: kit.id!, message: 'Its contents.' }],
          data: { kit: kit.id!, part: other.id!, amount: other.amount.value.toString() },
        },
      );
    }
  }
}

function isExplained({ line }: Charge): boolean {
  return line !== undefined && 'reason' in line && line.reason !== undefined;
}
