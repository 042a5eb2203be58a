/** Which tax rates hold on the day, and who owes none. */
import type { Jurisdiction } from '../../../schemas/kinds/jurisdiction.ts';
import { type Context, notBelowZero, report } from './context.ts';
import type { Terms } from './payers.ts';

export type Rate = Jurisdiction['taxes'][number];

/** The rates that hold on the pricing date. */
export function ratesInForce(context: Context): readonly Rate[] {
  const { jurisdiction, on, shop } = context;
  if (!jurisdiction) {
    context.complete = false;
    if (shop.jurisdiction === undefined) {
      report(
        context,
        'warning',
        'no-jurisdiction',
        [],
        'The shop names no jurisdiction, so no tax is counted. Write `jurisdiction` in shop.yaml. Check your local rules.',
      );
    }
    return [];
  }
  const rates = jurisdiction.taxes.filter(
    ({ from, until }) => (from === undefined || from <= on) && (until === undefined || until >= on),
  );
  if (rates.length === 0 && jurisdiction.taxes.length > 0) {
    context.complete = false;
    report(
      context,
      'error',
      'tax-rate-missing',
      [],
      `${jurisdiction.name} has no tax rate for ${on}, so no tax is counted. Add the rate that holds on that day to its \`taxes\`.`,
    );
  }
  return rates.map((one) => ({ ...one, rate: notBelowZero(context, one.rate, [], one.name) }));
}

/** Whether an owner of a line owes no tax; the owner without a name is the customer. */
export function exemption(
  context: Context,
  payers: readonly Terms[],
): (payer: string | undefined) => boolean {
  const exempt = new Set<string | undefined>();
  const certificate = context.sale.customer?.exempt;
  if (certificate && certificate.expires !== undefined && certificate.expires < context.on) {
    report(
      context,
      'warning',
      'exemption-expired',
      ['customer'],
      `The tax exemption ${certificate.certificate} ended on ${certificate.expires}, so tax is charged. Ask for a new certificate.`,
    );
  } else if (certificate) exempt.add(undefined);
  for (const payer of payers) {
    if (payer.exempt !== undefined || context.jurisdiction?.['payer-taxed']?.[payer.kind] === false)
      exempt.add(payer.id);
  }
  return (payer) => exempt.has(payer);
}
