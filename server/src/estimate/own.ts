/** Fields of the shop, gathered from all that a job is about. */
import type { Job } from '../../../schemas/kinds/job.ts';
import type { Shop } from '../../../schemas/kinds/shop.ts';
import type { WorkLine } from '../work/model.ts';
import type { OwnFact } from '../work/own.ts';
import type { BookCatalog } from './catalog.ts';

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
    ...carried(shop, { kind: 'job', id: job.id ?? '', of: 'the job', own: job.own, path: ['own'] }),
    ...carried(shop, { kind: 'customer', id: String(job.customer), of: 'the customer', own: customer?.own }),
    ...carried(shop, { kind: 'unit', id: job.unit, of: unit?.name ?? job.unit, own: unit?.own }),
  ];
  const seen = new Set<string>();
  for (const { sort, id, name } of lines) {
    const kind = sort === 'operation' ? 'operation' : 'part';
    if (id === undefined || (sort !== 'operation' && sort !== 'part' && sort !== 'fill')) continue;
    if (seen.has(`${kind} ${id}`)) continue;
    seen.add(`${kind} ${id}`);
    const entry = kind === 'part' ? catalog.part(id) : catalog.operation(id);
    facts.push(...carried(shop, { kind, id, of: name, own: entry?.own }));
  }
  return facts;
}

interface Entry extends Pick<OwnFact, 'kind' | 'id' | 'of' | 'path'> {
  readonly own: Readonly<Record<string, string>> | undefined;
}

/** What an entry says in fields that the shop has for its kind, in the order of the shop file. */
export function carried(shop: Shop, { own, path, ...entry }: Entry): OwnFact[] {
  if (!own) return [];
  return Object.entries(shop.fields ?? {}).flatMap(([field, declared]) =>
    declared.on.includes(entry.kind) && Object.hasOwn(own, field)
      ? [{ ...entry, field, declared, typed: own[field]!, path: path && [...path, field] }]
      : [],
  );
}
