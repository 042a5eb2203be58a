/** How much of a line is taxable: by its class, by the core rules, or as part of a lump sum. */
import { type Decimal, ONE, round, sum, ZERO } from '../../../schemas/values/decimal.ts';
import { type Charge, taxBase } from './charge.ts';
import { type Context, entry, report } from './context.ts';

export function classTaxer(context: Context, charges: readonly Charge[]): (charge: Charge) => Decimal {
  const lump = lumpSum(context);
  const told = new Set<string>();
  let ratio: Ratio | undefined;

  return (charge) => {
    const base = taxBase(charge);
    if (base.eq(ZERO) || !context.jurisdiction) return ZERO;
    if (charge.coreTaxed !== undefined) return charge.coreTaxed ? base : ZERO;
    if (lump !== undefined && charge.kind !== 'core') return lump === 'taxed' ? base : ZERO;
    const how = entry(context.jurisdiction.taxable, charge.taxClass);
    if (how === undefined) unknownClass(context, charge, told);
    if (how === 'prorated') {
      ratio ??= taxedPartsRatio(context, charges);
      return round(base.times(ratio.taxed).div(ratio.whole), context.places);
    }
    return how === 'yes' ? base : ZERO;
  };
}

interface Ratio {
  readonly taxed: Decimal;
  readonly whole: Decimal;
}

/** Taxed parts to parts and labor, as billed. Where neither is sold, nothing is taxed. */
function taxedPartsRatio(context: Context, charges: readonly Charge[]): Ratio {
  const isGoods = ({ category, taxClass }: Charge): boolean =>
    category === 'parts' || category === 'fluids' || taxClass === 'sublet-parts';
  const isWork = ({ category, taxClass }: Charge): boolean =>
    category === 'labor' || (category === 'sublet' && taxClass !== 'sublet-parts');
  const goods = charges.filter(isGoods);
  const taxed = goods.filter(({ taxClass }) => entry(context.jurisdiction?.taxable, taxClass) === 'yes');
  const whole = sum([...goods, ...charges.filter(isWork)].map(taxBase));
  return whole.eq(ZERO) ? { taxed: ZERO, whole: ONE } : { taxed: sum(taxed.map(taxBase)), whole };
}

function lumpSum(context: Context): 'taxed' | 'untaxed' | undefined {
  if (context.shop.tax?.billing !== 'lump-sum' || !context.jurisdiction) return undefined;
  const how = context.jurisdiction['lump-sum'];
  if (how === undefined) {
    report(
      context,
      'error',
      'lump-sum-unknown',
      [],
      `The shop bills one sum, but ${context.jurisdiction.name} does not say how that is taxed, so it is taxed by class. Write \`lump-sum\` in the jurisdiction. Check your local rules.`,
    );
  }
  return how;
}

function unknownClass(context: Context, { taxClass, path, name }: Charge, told: Set<string>): void {
  if (told.has(taxClass)) return;
  told.add(taxClass);
  context.complete = false;
  report(
    context,
    'error',
    'tax-class-unknown',
    path,
    `${context.jurisdiction!.name} does not say whether ${taxClass} is taxed, so ${name} is not. Add \`${taxClass}: yes\` or \`no\` under \`taxable\` in the jurisdiction. Check your local rules.`,
    { related: [{ kind: 'tax-class', id: taxClass, message: 'The class.' }], data: { class: taxClass } },
  );
}
