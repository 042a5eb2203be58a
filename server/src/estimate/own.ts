/** Fields of the shop, gathered from all that a job is about. */
import type { Job } from '../../../schemas/kinds/job.ts';
import type { Carrier } from '../../../schemas/kinds/own.ts';
import type { Shop } from '../../../schemas/kinds/shop.ts';
import type { Path } from '../../../schemas/problem.ts';
import type { WorkLine } from '../work/model.ts';
import type { OwnFact } from '../work/own.ts';
import type { BookCatalog } from './catalog.ts';

type Carried = Readonly<Record<string, string>> | undefined;

/** `lines`: what is on the option; an entry that stands on several is told once. */
export function ownFactsOf(
  job: Job,
  lines: readonly WorkLine[],
  catalog: BookCatalog,
  shop: Shop,
): readonly OwnFact[] {
  if (!shop.fields) return [];
  const unit = catalog.unit(job.unit);
  const customer = typeof job.customer === 'string' ? shop.customers?.[job.customer] : undefined;
  const facts = [
    ...carried(shop, 'job', job.own, 'the job', ['own']),
    ...carried(shop, 'customer', customer?.own, 'the customer'),
    ...carried(shop, 'unit', unit?.own, unit?.name ?? job.unit),
  ];
  const seen = new Set<string>();
  for (const { sort, id, name } of lines) {
    const carrier = sort === 'operation' ? 'operation' : 'part';
    if (id === undefined || (sort !== 'operation' && sort !== 'part' && sort !== 'fill')) continue;
    if (seen.has(`${carrier} ${id}`)) continue;
    seen.add(`${carrier} ${id}`);
    const entry = carrier === 'part' ? catalog.part(id) : catalog.operation(id);
    facts.push(...carried(shop, carrier, entry?.own, name));
  }
  return facts;
}

/** What an entry says in fields that the shop has for its kind, in the order of the shop file. */
export function carried(shop: Shop, carrier: Carrier, own: Carried, of: string, path?: Path): OwnFact[] {
  if (!own) return [];
  return Object.entries(shop.fields ?? {}).flatMap(([field, declared]) =>
    declared.on.includes(carrier) && Object.hasOwn(own, field)
      ? [{ field, declared, typed: own[field]!, of, path: path && [...path, field] }]
      : [],
  );
}
