/** Operations, access steps, add-ons and cautions on hover. */
import type { Adder, Caution, Operation, Step } from '../../../schemas/kinds/labor.ts';
import { type Decimal, sum, ZERO } from '../../../schemas/values/decimal.ts';
import { inWords } from '../pricing/applies.ts';
import type { Block } from './hover-blocks.ts';
import { usedBy, type View } from './hover-view.ts';

export function operationBlocks(view: View, id: string, operation: Operation): Block[] {
  const own = view.pricer.hours(operation);
  const access = view.pricer.access(operation);
  const reached = sum(access.map((one) => one.hours));
  const family = view.unit === undefined ? '' : ` for ${view.name('unit', view.unit)}`;
  return [
    { is: 'title', text: operation.name, id },
    {
      is: 'facts',
      rows: [
        ['Work', operation.work],
        ['Labor rate', operation.rate && rateText(view, operation.rate)],
        [`Own hours${family}`, own && `${own} h`],
        ['With access steps', reached.eq(ZERO) ? undefined : `${(own ?? ZERO).plus(reached)} h`],
        ['Flat price', view.money(operation.price)],
        ['Minimum charge', view.money(operation.minimum)],
        ['Fits', view.list('unit', operation.fits)],
        ['Role', operation.role && view.named('role', operation.role)],
        ['Includes', view.list('operation', operation.includes)],
        ['Needs', operation.parts?.map((one) => view.name('role', one.role)).join(', ')],
        ['Record it must leave', operation.record && view.name('record', operation.record)],
      ],
    },
    ...(operation['hours-by'] ? [familyTable(view, operation['hours-by'])] : []),
    ...(access.length > 0
      ? [
          {
            is: 'table',
            head: ['Access step', 'Hours'],
            rows: access.map((one) => [one.step.name, `${one.hours} h`]),
          } as const,
          {
            is: 'text',
            text: 'An access step is counted once on a job, whichever operations share it.',
            ours: true,
          } as const,
        ]
      : []),
    ...adderTable(Object.entries(operation.adders ?? {})),
    ...cautionBlocks(view, operation.cautions),
    ...(operation.say ? [{ is: 'text', text: operation.say } as const] : []),
    ...usedBy(view, 'operation', id),
  ];
}

function familyTable(view: View, hours: Readonly<Record<string, Decimal>>): Block {
  const rows = Object.entries(hours).map(([unit, own]) => [view.name('unit', unit), `${own} h`]);
  return { is: 'table', head: ['Unit family', 'Own hours'], rows };
}

function adderTable(adders: readonly (readonly [string, Adder])[]): Block[] {
  if (adders.length === 0) return [];
  const rows = adders.map(([id, adder]) => [id, adder.name, `${adder.hours} h`, adderWhen(adder)]);
  return [{ is: 'table', head: ['Add-on', '', 'Hours', 'When'], rows }];
}

function adderWhen({ judged, when }: Adder): string {
  return [when && inWords(when), judged && 'judged, with evidence'].filter(Boolean).join('; ');
}

export function rateText(view: View, id: string): string {
  const rate = view.shop.rates && Object.hasOwn(view.shop.rates, id) ? view.shop.rates[id] : undefined;
  return rate ? `${rate.name} (${id}), ${view.money(rate.hourly)} an hour` : id;
}

export function cautionBlocks(view: View, ids: readonly string[] | undefined): Block[] {
  return (ids ?? []).flatMap((id): Block[] => {
    const caution = view.value<Caution>('caution', id);
    return caution ? [{ is: 'text', text: `⚠ ${caution.text.trim()} Follow: ${caution.authority}` }] : [];
  });
}

export function cautionEntry(view: View, id: string, caution: Caution): Block[] {
  return [
    { is: 'title', text: 'Caution', id },
    { is: 'text', text: caution.text },
    {
      is: 'facts',
      rows: [
        ['Whose procedure or law to follow', caution.authority],
        ['Source', caution.source],
        ...Object.entries(caution.from ?? {}).map(([field, from]) => [`From ${field}`, from] as const),
      ],
    },
    ...usedBy(view, 'caution', id),
  ];
}

export function stepBlocks(view: View, id: string, step: Step): Block[] {
  return [
    { is: 'title', text: step.name, id },
    {
      is: 'facts',
      rows: [
        ['Hours', `${step.hours} h`],
        ['Needs', view.list('step', step.needs)],
      ],
    },
    ...(step['hours-by'] ? [familyTable(view, step['hours-by'])] : []),
    { is: 'text', text: 'Counted once on a job, whichever operations share it.', ours: true },
    ...usedBy(view, 'step', id),
  ];
}

export function adderBlocks(_view: View, id: string, adder: Adder): Block[] {
  return [
    { is: 'title', text: adder.name, id },
    {
      is: 'facts',
      rows: [
        ['Adds', `${adder.hours} h`],
        ['When', adderWhen(adder)],
      ],
    },
  ];
}
