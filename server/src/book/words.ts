/** Words of messages. */
import type { RefKind } from '../../../schemas/declare.ts';

/** What each kind of id is called. */
export const KIND_WORDS: Record<RefKind, string> = {
  shop: 'shop',
  rate: 'labor rate',
  schedule: 'price schedule',
  fee: 'fee',
  discount: 'discount',
  payer: 'payer',
  customer: 'customer',
  warranty: 'warranty plan',
  supplier: 'supplier',
  field: 'field of the shop',
  jurisdiction: 'jurisdiction',
  'tax-class': 'tax class',
  part: 'part',
  step: 'access step',
  operation: 'operation',
  adder: 'add-on',
  caution: 'caution',
  unit: 'unit family',
  'fluid-class': 'fluid class',
  trait: 'trait',
  role: 'role',
  finding: 'finding',
  rule: 'rule',
  record: 'record',
  template: 'template',
  parameter: 'parameter',
  job: 'job',
  option: 'option',
  case: 'case',
};

const LONGEST = 80;

/** What was typed, in quotes; a quote that was closed too late can make it a whole page. */
export function quoted(text: string): string {
  return `"${text.length > LONGEST ? `${text.slice(0, LONGEST - 1)}…` : text}"`;
}
