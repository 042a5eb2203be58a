/** What is wrong with entries of the book by themselves, found where they are written and not first on a job. */
import type { Operation } from '../../../schemas/kinds/labor.ts';
import type { Part } from '../../../schemas/kinds/parts.ts';
import type { Shop } from '../../../schemas/kinds/shop.ts';
import type { Path, Problem } from '../../../schemas/problem.ts';
import type { IsoDate } from '../../../schemas/values/dates.ts';
import { ZERO } from '../../../schemas/values/decimal.ts';
import { checkSchedules } from './check-schedules.ts';
import { seams } from './history.ts';
import { includedBy } from './includes.ts';
import { contentsOf } from './kits.ts';
import type { Catalog } from './model.ts';
import { soldBy } from './quantity.ts';
import { chainOf } from './supersession.ts';

/** Problems of the shop's prices; paths are those of the shop file. */
export function checkShop(shop: Shop): Problem[] {
  return [...checkSchedules(shop), ...checkFees(shop), ...checkDiscounts(shop), ...checkSupplies(shop)];
}

function error(code: string, path: Path, message: string): Problem {
  return { severity: 'error', code, path, message };
}

function checkFees(shop: Shop): Problem[] {
  return Object.entries(shop.fees ?? {}).flatMap(([id, fee]) => {
    const path = ['fees', id];
    const found: Problem[] = [];
    if (fee.amount === undefined && fee.percent === undefined) {
      found.push(
        error('fee-without-figure', path, `${fee.name} has neither an amount nor a percent. Give it one.`),
      );
    }
    if (fee.percent !== undefined && !fee.on?.length) {
      found.push(
        error(
          'fee-without-base',
          path,
          `${fee.name} is a percent of nothing. Write under \`on\` what it is taken of.`,
        ),
      );
    }
    if (fee.each === 'unit-sold' && fee.role === undefined) {
      found.push(
        error(
          'fee-without-role',
          path,
          `${fee.name} is for each unit sold, but of what is not said. Write its \`role\`.`,
        ),
      );
    }
    return found;
  });
}

function checkDiscounts(shop: Shop): Problem[] {
  return Object.entries(shop.discounts ?? {}).flatMap(([id, discount]) => {
    if (discount.percent !== undefined || discount.amount !== undefined) return [];
    const message = `${discount.name} has neither a percent nor an amount, so it takes nothing off unless a job says how much.`;
    return [{ severity: 'information', code: 'discount-without-figure', path: ['discounts', id], message }];
  });
}

/** Supplies are counted before fees, so that a fee can be taken of them. */
function checkSupplies({ supplies }: Shop): Problem[] {
  return (supplies?.on ?? []).flatMap((category, index) =>
    category === 'supplies' || category === 'fees'
      ? [
          error(
            'base-counted-later',
            ['supplies', 'on', index],
            `Shop supplies are counted before ${category}, so they cannot be a share of them. Take ${category} out.`,
          ),
        ]
      : [],
  );
}

/** Problems of one part; paths are inside its entry. */
export function checkPart(id: string, part: Part, catalog: Pick<Catalog, 'part'>): Problem[] {
  return [
    ...checkHistory(part),
    ...checkChain(id, part, catalog),
    ...checkKit(id, part, catalog),
    ...checkUnits(part),
  ];
}

function checkHistory(part: Part): Problem[] {
  const found: Problem[] = (part.prices ?? []).flatMap(({ from, until }, index) =>
    until !== undefined && until < from
      ? [
          error(
            'price-dates-reversed',
            ['prices', index, 'until'],
            `This price ends on ${until}, before it starts on ${from}. Correct one of the dates.`,
          ),
        ]
      : [],
  );
  for (const { kind, row, first, last } of seams(part.prices ?? [])) {
    const path = ['prices', row, 'from'];
    if (kind === 'overlap') {
      found.push(
        error(
          'price-overlap',
          path,
          `Two prices hold ${days(first, last)}; the one that starts later is taken. End the earlier one the day before.`,
        ),
      );
    } else if (part.cost === undefined && part.price === undefined) {
      found.push(
        error('price-gap', path, `No price holds ${days(first, last)}. Let one of the two reach the other.`),
      );
    }
  }
  return found;
}

function days(first: IsoDate, last: IsoDate): string {
  return first === last ? `on ${first}` : `from ${first} to ${last}`;
}

function checkChain(id: string, part: Part, catalog: Pick<Catalog, 'part'>): Problem[] {
  const next = part['superseded-by'];
  if (!next) return [];
  const forever = '9999-12-31' as IsoDate;
  const chain = chainOf({ part: (one) => (one === id ? part : catalog.part(one)) }, id, forever);
  const path = ['superseded-by', 'part'];
  if (chain?.cycle) {
    const numbers = chain.numbers.join(' → ');
    return [
      error(
        'supersession-cycle',
        path,
        `These numbers replace one another in a circle: ${numbers}. Take one of the replacements out.`,
      ),
    ];
  }
  if (next.quantity?.eq(ZERO)) {
    return [
      error(
        'supersession-of-none',
        ['superseded-by', 'quantity'],
        'None of the new number for one of the old would sell nothing. Write how many take its place.',
      ),
    ];
  }
  return [];
}

function checkKit(id: string, part: Part, catalog: Pick<Catalog, 'part'>): Problem[] {
  if (part['kit-price'] === 'contents' && !part.contents?.length) {
    return [
      error(
        'kit-without-contents',
        ['kit-price'],
        'The price is to be the sum of the contents, but the kit has none. Write its `contents`, or give it a price of its own.',
      ),
    ];
  }
  if (!contentsOf(catalog, part).parts.has(id)) return [];
  return [
    error(
      'kit-holds-itself',
      ['contents'],
      'This kit holds itself, directly or through a kit inside it. Take that out.',
    ),
  ];
}

function checkUnits(part: Part): Problem[] {
  const unit = soldBy(part);
  const found: Problem[] = [];
  if (unit.id === 'set' && part.holds === undefined && !part.contents) {
    found.push({
      severity: 'warning',
      code: 'set-without-count',
      path: ['unit'],
      message: 'A set needs a count: write how many pieces it `holds`.',
    });
  }
  if (part.pack?.of.eq(ZERO)) {
    found.push(
      error(
        'pack-of-none',
        ['pack', 'of'],
        'A pack that holds none has no cost for one. Write how many it holds.',
      ),
    );
  }
  return found;
}

/** Problems of one operation; paths are inside its entry. */
export function checkOperation(id: string, operation: Operation, catalog: Catalog): Problem[] {
  const own: Catalog = { ...catalog, operation: (one) => (one === id ? operation : catalog.operation(one)) };
  if (!includedBy(own, id).has(id)) return [];
  return [
    error(
      'includes-cycle',
      ['includes'],
      `${operation.name} includes itself, directly or through what it includes, so neither covers the other. Take one of them out of \`includes\`.`,
    ),
  ];
}
