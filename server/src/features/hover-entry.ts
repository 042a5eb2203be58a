/** An entry of the book on hover, by its kind; also what completion tells of an id on demand. */
import type { RefKind } from '../../../schemas/declare.ts';
import { KIND_WORDS } from '../book/checks.ts';
import type { BookFile } from '../book/file.ts';
import type { Block } from './hover-blocks.ts';
import { jobBlocks, optionBlocks, parameterBlocks, templateBlocks } from './hover-jobs.ts';
import { adderBlocks, cautionEntry, operationBlocks, stepBlocks } from './hover-labor.ts';
import { ownFieldBlocks } from './hover-own.ts';
import { partBlocks } from './hover-parts.ts';
import { findingBlocks, recordBlocks, roleBlocks, ruleBlocks } from './hover-rules.ts';
import {
  customerBlocks,
  discountBlocks,
  feeBlocks,
  jurisdictionBlocks,
  payerBlocks,
  rateBlocks,
  scheduleBlocks,
  supplierBlocks,
  warrantyBlocks,
} from './hover-shop.ts';
import { unitBlocks } from './hover-units.ts';
import { usedBy, type View } from './hover-view.ts';

type Tell = (view: View, id: string, value: never, home: BookFile | undefined) => Block[];

const TELL: Partial<Record<RefKind, Tell>> = {
  part: partBlocks,
  operation: operationBlocks,
  step: stepBlocks,
  adder: adderBlocks,
  caution: cautionEntry,
  finding: findingBlocks,
  rule: ruleBlocks,
  role: roleBlocks,
  record: recordBlocks,
  unit: unitBlocks,
  rate: rateBlocks,
  schedule: scheduleBlocks,
  fee: feeBlocks,
  discount: discountBlocks,
  payer: payerBlocks,
  customer: customerBlocks,
  warranty: warrantyBlocks,
  supplier: supplierBlocks,
  field: ownFieldBlocks,
  jurisdiction: jurisdictionBlocks,
  template: templateBlocks,
  parameter: parameterBlocks,
  job: jobBlocks,
  option: optionBlocks,
};

/** `value`: the judged entry; `home`: the file that it is written in. */
export function entryBlocks(
  view: View,
  kind: RefKind,
  id: string,
  value: unknown,
  home: BookFile | undefined,
): Block[] {
  const tell = TELL[kind];
  if (tell && value !== undefined) return tell(view, id, value as never, home);
  const word = KIND_WORDS[kind];
  return [{ is: 'title', text: word[0]!.toUpperCase() + word.slice(1), id }, ...usedBy(view, kind, id)];
}
