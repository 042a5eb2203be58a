/** The few facts of an entry that help to choose it from a list. */

import type { z } from 'zod';
import type { RefKind } from '../../../schemas/declare.ts';
import type { Job, JobOption } from '../../../schemas/kinds/job.ts';
import type { Jurisdiction } from '../../../schemas/kinds/jurisdiction.ts';
import type { Adder, Caution, Operation, Step } from '../../../schemas/kinds/labor.ts';
import type { OwnField } from '../../../schemas/kinds/own.ts';
import type { Part } from '../../../schemas/kinds/parts.ts';
import type { Finding, RecordKind, Role, Rule } from '../../../schemas/kinds/rules.ts';
import type {
  Customer,
  Discount,
  Fee,
  Payer,
  Rate,
  Schedule,
  Shop,
  Warranty,
} from '../../../schemas/kinds/shop.ts';
import type { parameter, Template } from '../../../schemas/kinds/template.ts';
import type { Unit } from '../../../schemas/kinds/units.ts';
import { type Decimal, ZERO } from '../../../schemas/values/decimal.ts';
import { formatPercent } from '../../../schemas/values/percent.ts';
import { formatQuantity } from '../../../schemas/values/quantity.ts';
import { figure } from '../pricing/amount.ts';
import type { Pricer } from './hover-price.ts';

export interface Details {
  /** As printed. */
  readonly name?: string | undefined;
  readonly facts?: string | undefined;
  /** Why it is no longer to be used. */
  readonly gone?: string | undefined;
}

/** `value`: the judged entry; undefined when it is too broken, or when the id is only a word. */
export function detailsOf(kind: RefKind, id: string, value: unknown, pricer: Pricer): Details {
  const { name } = (value ?? {}) as { name?: unknown };
  const named = typeof name === 'string' ? name : undefined;
  return { name: named, ...(value === undefined ? {} : TELL[kind]?.(value as never, pricer, id)) };
}

type Tell = (value: never, pricer: Pricer, id: string) => Details;
const tell = <T>(facts: (value: T, pricer: Pricer, id: string) => Details): Tell => facts as Tell;

const TELL: Partial<Record<RefKind, Tell>> = {
  part: tell<Part>((part, pricer, id) => ({
    name: [part.name, part.condition, part.contents && `kit of ${part.contents.length}`]
      .filter(Boolean)
      .join(', '),
    facts: priceFacts(part, pricer, id),
    gone: goneBecause(part),
  })),
  operation: tell<Operation>((operation, pricer) => ({ facts: hoursFacts(operation, pricer) })),
  step: tell<Step>((step) => ({ facts: `${step.hours} h` })),
  adder: tell<Adder>((adder) => ({ facts: `${adder.hours} h${adder.judged ? ', judged' : ''}` })),
  rate: tell<Rate>((rate) => ({ facts: `${figure(rate.hourly)} an hour` })),
  schedule: tell<Schedule>((schedule) => ({
    facts: `${schedule.bands.length} bands, ${schedule.how ?? 'whole'}`,
  })),
  fee: tell<Fee>((fee) => ({ facts: amountOrShare(fee) })),
  discount: tell<Discount>((discount) => ({ facts: amountOrShare(discount) })),
  payer: tell<Payer>((payer) => ({ facts: payer.kind })),
  customer: tell<Customer>((customer) => ({ facts: customer.phone })),
  field: tell<OwnField>((field) => ({ facts: field.type })),
  supplier: tell<NonNullable<Shop['suppliers']>[string]>((supplier) => ({ facts: supplier.phone })),
  warranty: tell<Warranty>((plan) => ({
    facts: [`${plan.months} months`, plan.distance && formatQuantity(plan.distance)]
      .filter(Boolean)
      .join(' or '),
  })),
  jurisdiction: tell<Jurisdiction>((law) => ({ facts: `as of ${law['as-of']}` })),
  caution: tell<Caution>((caution) => ({
    name: caution.text.trim().split('\n')[0],
    facts: caution.authority,
  })),
  unit: tell<Unit>((unit) => ({
    facts: [unit.layout, unit.gears && `${unit.gears} gears`, `fluid ${unit['fluid-class']}`]
      .filter(Boolean)
      .join(', '),
  })),
  role: tell<Role>((role) => ({ facts: role.of })),
  finding: tell<Finding>((finding) => ({ facts: findingFacts(finding) })),
  rule: tell<Rule>((rule) => ({ name: rule.name, facts: rule.basis })),
  record: tell<RecordKind>((record) => ({ facts: record.counted })),
  template: tell<Template>((template) => ({
    facts:
      Object.keys(template.parameters ?? {})
        .map((one) => `$${one}`)
        .join(' ') || undefined,
  })),
  parameter: tell<z.output<typeof parameter>>((parameter) => ({
    name: parameter.say?.trim().split('\n')[0],
    facts: [parameter.type, parameter.default && `else ${parameter.default}`].filter(Boolean).join(', '),
  })),
  job: tell<Partial<Job>>((job) => ({
    name: typeof job.customer === 'string' ? job.customer : job.customer?.name,
    facts: [job.unit, job.opened].filter(Boolean).join(', '),
  })),
  option: tell<JobOption>((option) => ({ facts: option.kind })),
};

function priceFacts(part: Part, pricer: Pricer, id: string): string | undefined {
  const { each, core } = pricer.part(id);
  const price =
    each !== undefined
      ? figure(each)
      : part.cost !== undefined
        ? `cost ${figure(part.cost)}`
        : part.list && `list ${figure(part.list)}`;
  return [price, core && `core ${figure(core)}`].filter(Boolean).join(' + ') || undefined;
}

function goneBecause(part: Part): string | undefined {
  if (part['superseded-by']) return `superseded by ${part['superseded-by'].part}`;
  return part.status === 'discontinued' ? 'no longer made' : undefined;
}

function hoursFacts(operation: Operation, pricer: Pricer): string | undefined {
  if (operation.price) return `flat ${figure(operation.price)}`;
  const own = pricer.hours(operation);
  const access = pricer.accessHours(operation);
  if (own === undefined && access.eq(ZERO)) return operation.sublet ? 'sublet' : undefined;
  return `${own ?? ZERO} h${access.eq(ZERO) ? '' : ` + ${access} h access`}`;
}

function findingFacts(finding: Finding): string {
  if (finding.kind === 'scale') return finding.scale?.join(' < ') ?? 'scale';
  return finding.kind === 'measurement' ? (finding.dimension ?? 'measurement') : 'yes or no';
}

function amountOrShare(one: {
  amount?: Decimal | undefined;
  percent?: Decimal | undefined;
}): string | undefined {
  if (one.amount) return figure(one.amount);
  return one.percent && formatPercent(one.percent);
}
