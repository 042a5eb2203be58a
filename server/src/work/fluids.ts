/** The fluid on the job: the class the unit takes, and as much of it as the work needs. */
import type { OPTION_KINDS } from '../../../schemas/kinds/rules.ts';
import type { Unit } from '../../../schemas/kinds/units.ts';
import type { Problem } from '../../../schemas/problem.ts';
import { type Decimal, ONE, roundUpTo, sum } from '../../../schemas/values/decimal.ts';
import { convert, formatQuantity, type Quantity } from '../../../schemas/values/quantity.ts';
import type { SellingUnit } from '../../../schemas/values/selling.ts';
import type { Unit as Measure } from '../../../schemas/values/units.ts';
import type { Facts } from './facts.ts';
import type { Catalog, WorkLine } from './model.ts';
import { fillerNames, list, money } from './say.ts';

export function fluidProblems(facts: Facts, catalog: Catalog): Problem[] {
  const { unit } = facts;
  if (!unit) return [];
  const lines = facts.input.lines.filter((line) => isForUnit(line, unit, facts, catalog));
  const classes = lines.flatMap((line) => classProblem(line, unit, facts, catalog));
  const right = lines.filter((line) => classOf(line, catalog) === unit['fluid-class']);
  return [...classes, ...quantityProblems(right, unit, facts, catalog)];
}

function classOf(line: WorkLine, catalog: Catalog): string | undefined {
  return catalog.part(line.id ?? '')?.['fluid-class'];
}

/**
 * Fluid that goes into the unit: filled by its capacity, or of a role that fluid of its class fills. A transfer case has
 * fluid of its own, which is no mistake.
 */
function isForUnit(line: WorkLine, unit: Unit, { input }: Facts, catalog: Catalog): boolean {
  if (line.sort === 'fill') return true;
  const part = line.sort === 'part' ? catalog.part(line.id ?? '') : undefined;
  if (part?.kind !== 'fluid') return false;
  if (part['fluid-class'] === unit['fluid-class'] || !part.role) return true;
  return catalog
    .fillers(part.role, input.job.unit)
    .some(({ kind, id }) => kind === 'part' && catalog.part(id)?.['fluid-class'] === unit['fluid-class']);
}

function classProblem(line: WorkLine, unit: Unit, { input }: Facts, catalog: Catalog): Problem[] {
  const wanted = unit['fluid-class'];
  const given = classOf(line, catalog);
  if (given === wanted) return [];
  const role = catalog.part(line.id ?? '')?.role;
  const fitting = role
    ? catalog.fillers(role, input.job.unit).filter(({ id }) => catalog.part(id)?.['fluid-class'] === wanted)
    : [];
  const use = fitting.length > 0 ? ` Use ${fillerNames(fitting, catalog)}.` : '';
  const message =
    given === undefined
      ? `${line.name} does not say its fluid class, and ${unit.name} takes class ${wanted} only. Write \`fluid-class\` at the part.`
      : `${line.name} is of fluid class ${given}; ${unit.name} takes class ${wanted} and no other.${use}`;
  const related = line.id === undefined ? [] : [{ kind: 'part' as const, id: line.id, message: line.name }];
  return [
    {
      code: given === undefined ? 'fluid-class-unknown' : 'wrong-fluid',
      severity: given === undefined ? 'warning' : 'error',
      message,
      path: line.path,
      related,
      data: { fillers: fitting },
    },
  ];
}

/** Work that leaves the unit empty. */
const EMPTYING: ReadonlySet<keyof typeof OPTION_KINDS> = new Set([
  'overhaul',
  'exchange',
  'used',
  'put-back',
]);

interface Sold {
  readonly unit: SellingUnit;
  readonly measure: Measure;
  /** Whole packs only: the next pack up is no excess. */
  readonly step: Decimal;
}

function quantityProblems(lines: readonly WorkLine[], unit: Unit, facts: Facts, catalog: Catalog): Problem[] {
  const first = lines[0];
  const measure = first?.sellingUnit?.unit;
  const dry = unit.capacities?.dry;
  if (!first?.sellingUnit || !measure || measure.dimension !== 'volume' || !dry) return [];
  if (lines.some((line) => line.sellingUnit?.unit?.dimension !== 'volume')) return [];
  const pack = catalog.part(first.id ?? '')?.pack;
  const sold: Sold = { unit: first.sellingUnit, measure, step: pack?.whole ? pack.of : ONE };

  const inSold = (quantity: Quantity) => convert(quantity, measure).amount;
  const there = sum(lines.map((line) => inSold({ amount: line.quantity, unit: line.sellingUnit!.unit! })));
  const lost = lostInCooling(lines, inSold, facts, catalog);
  const emptied = EMPTYING.has(facts.input.option?.kind ?? 'service') || facts.works.has('teardown');
  const needed = roundUpTo(inSold(dry).plus(lost.amount), ONE);
  // As much again as a pan service is no reserve but a slip of the unit or the quantity.
  const spare = inSold(unit.capacities?.service ?? dry);
  const most = sum([inSold(dry), lost.amount, ...besidesDry(unit).map(inSold), spare]);

  if (emptied && there.lt(needed)) {
    const parts = [`${formatQuantity(dry)} dry fill`, ...lost.names];
    return [shortage(first, there, needed, list(parts), sold, unit, facts)];
  }
  const allowed = roundUpTo(roundUpTo(most, ONE), sold.step);
  return there.gt(allowed) ? [excess(first, there, allowed, sold, unit)] : [];
}

/**
 * Fluid that flush and flow test use up, in selling units: as the cooling work on the job says, or as the fill does.
 * Other work that needs fluid is given it by the dry fill.
 */
function lostInCooling(
  lines: readonly WorkLine[],
  inSold: (quantity: Quantity) => Decimal,
  facts: Facts,
  catalog: Catalog,
): { amount: Decimal; names: string[] } {
  const stated = sum(lines.flatMap((line) => (line.loss ? [inSold(line.loss)] : [])));
  const roles = new Set(lines.flatMap((line) => line.fills.map((fill) => fill.role)));
  const uses = [...facts.operations].flatMap(([id, line]) => {
    const operation = catalog.operation(id);
    const parts = operation?.work === 'cooling' ? (operation.parts ?? []) : [];
    return parts
      .filter((part) => roles.has(part.role))
      .map((part) => ({ name: operation!.name, amount: (part.quantity ?? ONE).times(line.quantity) }));
  });
  const used = sum(uses.map((one) => one.amount));
  return stated.gt(used)
    ? { amount: stated, names: [`${stated} of loss`] }
    : { amount: used, names: uses.map((one) => `${one.amount} for ${one.name}`) };
}

/** Capacities that the dry figure does not count already. */
function besidesDry({ capacities }: Unit): Quantity[] {
  const { converter, includes = [] } = capacities ?? {};
  const cooler = capacities?.['cooler-and-lines'];
  return [
    ...(converter && !includes.includes('converter') ? [converter] : []),
    ...(cooler && !includes.includes('cooler-and-lines') ? [cooler] : []),
  ];
}

function shortage(
  line: WorkLine,
  there: Decimal,
  needed: Decimal,
  parts: string,
  sold: Sold,
  unit: Unit,
  { input }: Facts,
): Problem {
  const short = needed.minus(there);
  const worth = line.each ? `, ${money(short.times(line.each), input)}` : '';
  return {
    code: 'fluid-short',
    severity: 'error',
    message: `Fluid is short by ${counted(short, sold)}${worth}: ${unit.name} comes back empty and takes ${parts}, which makes ${counted(needed, sold)}; ${counted(there, sold)} on the job. Write \`fill: dry\`, or the quantity.`,
    path: line.path,
    data: {
      short: short.toString(),
      needed: needed.toString(),
      ...(line.each ? { amount: short.times(line.each).toString() } : {}),
    },
  };
}

function excess(line: WorkLine, there: Decimal, most: Decimal, sold: Sold, unit: Unit): Problem {
  return {
    code: 'fluid-excess',
    severity: 'warning',
    message: `${counted(there, sold)} of fluid is more than ${unit.name} can take, with what flush and test use up: ${counted(most, sold)}. Check the quantity and its unit.`,
    path: line.path,
    data: { most: most.toString() },
  };
}

function counted(amount: Decimal, { unit }: Sold): string {
  return `${amount} ${amount.eq(ONE) ? unit.id : unit.plural}`;
}
