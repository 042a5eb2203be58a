/** What can hurt on this job, each caution once, with the authority to follow. */
import type { Problem } from '../../../schemas/problem.ts';
import { compareQuantity, formatQuantity, parseQuantity } from '../../../schemas/values/quantity.ts';
import type { Facts } from './facts.ts';
import type { HeldRule } from './fixpoint.ts';
import type { Catalog, Requirement, ShownCaution } from './model.ts';
import { dimensionOf, fieldQuantity } from './records/fields.ts';

type From = ShownCaution['from'][number];

export function cautionsOf(
  facts: Facts,
  held: readonly HeldRule[],
  requirements: readonly Requirement[],
  catalog: Catalog,
): ShownCaution[] {
  const shown = new Map<string, { caution: Omit<ShownCaution, 'from'>; from: From[] }>();
  const show = (ids: readonly string[] | undefined, from: From): void => {
    for (const id of ids ?? []) {
      const entry = catalog.caution(id);
      if (!entry) continue;
      const so = shown.get(id);
      if (so) so.from.push(from);
      else
        shown.set(id, { caution: { id, text: entry.text.trim(), authority: entry.authority }, from: [from] });
    }
  };
  for (const [id, line] of facts.operations) {
    show(catalog.operation(id)?.cautions, { kind: 'operation', id, path: line.path });
  }
  for (const rule of held) show(rule.compiled.rule.cautions, { kind: 'rule', id: rule.id });
  // A test or a record that is still to be done can hurt whoever does it.
  const asked = (kind: Requirement['kind']) =>
    requirements.filter((one) => one.kind === kind && one.state !== 'waived');
  for (const id of new Set([...facts.readings.keys(), ...asked('finding').map((one) => one.finding!)])) {
    show(catalog.finding(id)?.cautions, { kind: 'finding', id, path: facts.readings.get(id)?.[0]?.path });
  }
  for (const id of new Set([...facts.records.keys(), ...asked('record').map((one) => one.record!)])) {
    show(catalog.record(id)?.cautions, { kind: 'record', id, path: facts.records.get(id)?.path });
  }
  return [...shown.values()].map(({ caution, from }) => ({ ...caution, from }));
}

/** Figures of records from which a caution is shown: what the authority says, and no judgment of the work. */
export function cautionFigures(facts: Facts, cautions: readonly ShownCaution[], catalog: Catalog): Problem[] {
  const records = facts.input.job.records ?? [];
  return cautions.flatMap(({ id, text, authority }) =>
    Object.entries(catalog.caution(id)?.from ?? {}).flatMap(([field, figure]) =>
      records.flatMap((record, index): Problem[] => {
        const dimension = dimensionOf(field, undefined);
        const limit = dimension && parseQuantity(figure, dimension);
        const quantity = fieldQuantity(record, field);
        if (!limit?.ok || !quantity || compareQuantity(quantity, limit.value) < 0) return [];
        return [
          {
            code: 'caution-figure',
            severity: 'information',
            message: `${formatQuantity(quantity)} is ${formatQuantity(limit.value)} or more. ${text} Follow: ${authority}.`,
            path: ['records', index, field],
            related: [{ kind: 'caution', id, message: text }],
          },
        ];
      }),
    ),
  );
}
