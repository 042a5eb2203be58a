/** Every way an owner can answer: each option, with each choice of its recommended work, priced by the engine. */
import type { OptionEstimate } from '../../estimate/estimate.ts';
import type { SaleLine } from '../../pricing/model.ts';
import type { Source } from '../source.ts';

/** Recommended work that is taken or left together: a part and the work that fits it. */
export interface Extra {
  /** Part number or operation of its first line: what an answer calls it. */
  readonly id: string;
  readonly name: string;
  readonly lines: readonly SaleLine[];
}

export interface OptionAnswers {
  readonly option: OptionEstimate;
  readonly extras: readonly Extra[];
  /** By the bits of the extras that are left out; the first has all of them. */
  readonly variants: readonly OptionEstimate[];
}

/** Two to the power of it is how often an option is priced; what is beyond is taken or left as one. */
const MOST_EXTRAS = 5;

export function answersOf(source: Source): OptionAnswers[] {
  return source.estimate.options.map((option) => {
    const extras = extrasOf(source, option);
    const variants = Array.from({ length: 2 ** extras.length }, (_, left) =>
      left === 0
        ? option
        : without(
            source,
            option,
            extras.filter((_, bit) => left & (1 << bit)),
          ),
    );
    return { option, extras, variants };
  });
}

/** The option priced and checked without some of its recommended work. */
export function without(source: Source, option: OptionEstimate, extras: readonly Extra[]): OptionEstimate {
  const out = new Set(extras.flatMap((extra) => extra.lines.map(placeOf)));
  const again = source.again({ keeps: (line) => !out.has(placeOf(line)) });
  return again.options.find((one) => one.id === option.id)!;
}

function extrasOf(source: Source, option: OptionEstimate): Extra[] {
  const optional = option.lines.filter(({ line }) => line.optional);
  const groups: { roles: Set<string>; lines: SaleLine[] }[] = [];
  for (const one of optional) {
    const roles = rolesOf(source, one);
    const group = groups.find((known) => roles.some((role) => known.roles.has(role)));
    if (group) {
      group.lines.push(one);
      for (const role of roles) group.roles.add(role);
    } else groups.push({ roles: new Set(roles), lines: [one] });
  }
  const extras = groups.map(({ lines }): Extra => {
    const first = lines.find(({ line }) => 'part' in line) ?? lines[0]!;
    return { id: idOf(first), name: nameOf(source, first), lines };
  });
  if (extras.length <= MOST_EXTRAS) return extras;
  const [kept, rest] = [extras.slice(0, MOST_EXTRAS - 1), extras.slice(MOST_EXTRAS - 1)];
  return [
    ...kept,
    {
      id: rest[0]!.id,
      name: rest.map((one) => one.name).join(', '),
      lines: rest.flatMap((one) => one.lines),
    },
  ];
}

/** What a line is, and what its work needs: a part and the operation that fits it meet in one role. */
function rolesOf({ catalog }: Source, { line }: SaleLine): string[] {
  if ('operation' in line) {
    const operation = catalog.operation(line.operation);
    return [operation?.role, ...(operation?.parts ?? []).map((one) => one.role)].filter(
      (role) => role !== undefined,
    );
  }
  if ('part' in line) return [catalog.part(line.part)?.role].filter((role) => role !== undefined);
  return 'role' in line && line.role !== undefined ? [line.role] : [];
}

function idOf({ line }: SaleLine): string {
  if ('part' in line) return line.part;
  if ('operation' in line) return line.operation;
  if ('sublet' in line) return line.sublet;
  return 'fee' in line ? line.fee : line.other;
}

function nameOf({ catalog, estimate }: Source, { line }: SaleLine): string {
  if ('part' in line) return catalog.part(line.part)?.name ?? line.part;
  if ('operation' in line) return catalog.operation(line.operation)?.name ?? line.operation;
  if ('sublet' in line) return line.sublet;
  return 'fee' in line ? (estimate.policy.shop.fees?.[line.fee]?.name ?? line.fee) : line.other;
}

/** The same line in another reading of the same job. */
function placeOf({ path, from }: SaleLine): string {
  return JSON.stringify([path, from?.template, from?.path]);
}

/** Roles that leave the job with the extras: what an authorization lists as declined. */
export function rolesLeft(source: Source, extras: readonly Extra[]): string[] {
  const roles = extras.flatMap((extra) => extra.lines.flatMap((line) => rolesOf(source, line)));
  return [...new Set(roles)];
}
