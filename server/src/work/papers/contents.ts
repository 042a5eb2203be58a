/** What an estimate, a teardown estimate or an invoice has to hold in a place, and does not. */
import { CONTENTS, type Content, type Jurisdiction } from '../../../../schemas/kinds/jurisdiction.ts';
import type { Path, Problem } from '../../../../schemas/problem.ts';
import { sum } from '../../../../schemas/values/decimal.ts';
import { list } from '../say.ts';
import type { Paper, PaperKind, PaperLine } from './paper.ts';

export type { Paper, PaperKind, PaperLine } from './paper.ts';

/** One problem for each thing that the paper lacks. */
export function contentProblems(paper: Paper, law: Jurisdiction): Problem[] {
  const rule = law[paper.kind];
  return (rule?.must ?? []).flatMap((content): Problem[] => {
    // The law on waste fees tells of the number itself.
    if (content === 'epa-id' && law.waste?.['needs-epa-id']) return [];
    const lack = LACKS[content](paper, law);
    if (!lack) return [];
    const source = rule?.source ? ` (${rule.source})` : '';
    return [
      {
        code: 'paper-lacks',
        severity: paper.handedOver ? 'error' : 'warning',
        message: `${law.name} wants on ${NAMES[paper.kind]}: ${lowered(CONTENTS[content])} ${lack.text}${source}. Check your local rules.`,
        path: lack.path,
        ...(lack.onKey ? { onKey: true } : {}),
        data: { content, paper: paper.kind },
      },
    ];
  });
}

const NAMES: Readonly<Record<PaperKind, string>> = {
  estimate: 'an estimate',
  'teardown-estimate': 'a teardown estimate',
  invoice: 'an invoice',
};

function lowered(text: string): string {
  return text.charAt(0).toLowerCase() + text.slice(1);
}

interface Lack {
  readonly text: string;
  readonly path: Path;
  readonly onKey?: boolean;
}

type Finder = (paper: Paper, law: Jurisdiction) => Lack | undefined;

/** What is asked of the shop file has no place in the job: it is told at the unit, which every job has. */
const AT_JOB: Path = ['opened'];

const at = (path: Path, text: string): Lack => ({ text, path, onKey: true });
const unless = (there: unknown, path: Path, text: string) => (there ? undefined : at(path, text));

const LACKS: Readonly<Record<Content, Finder>> = {
  'business-name': ({ shop }) =>
    unless(shop.name && shop.address?.length, AT_JOB, 'Write `name` and `address` in the shop file'),
  'registration-number': ({ shop }) =>
    unless(shop.registration, AT_JOB, 'Write `registration` in the shop file'),
  'epa-id': ({ shop, lines }) =>
    unless(shop['epa-id'] || !lines.some((line) => line.waste), AT_JOB, 'Write `epa-id` in the shop file'),
  customer: ({ customer }) => unless(customer, AT_JOB, 'Write `customer`'),
  vehicle: ({ job: { vehicle } }) =>
    unless(
      vehicle?.year && vehicle.make && vehicle.model && (vehicle.plate || vehicle.vin),
      vehicle ? ['vehicle'] : AT_JOB,
      'Write them under `vehicle`',
    ),
  odometer: ({ job: { vehicle } }) =>
    unless(vehicle?.odometer, vehicle ? ['vehicle'] : AT_JOB, 'Write `odometer` under `vehicle`'),
  complaint: ({ job }) => unless(job.complaint, AT_JOB, 'Write `complaint`'),
  dates: ({ kind, job }) =>
    unless(
      kind === 'invoice' ? job.completed : job.opened,
      AT_JOB,
      kind === 'invoice' ? 'Write `completed`' : 'Write `opened`',
    ),
  'part-prices': ({ lines }) =>
    withLines(
      lines.filter((line) => line.sort === 'part' && line.amount === undefined && !line.supplied),
      'No price',
    ),
  'part-conditions': silentParts,
  'labor-prices': ({ lines }) =>
    withLines(
      lines.filter((line) => line.sort !== 'part' && line.amount === undefined),
      'No price',
    ),
  'separate-totals': (paper) => separateTotals(paper),
  'supplies-amount': ({ supplies }) =>
    unless(!supplies || supplies.amount !== undefined, AT_JOB, 'Print the sum, not only the percent'),
  'supplies-basis': ({ supplies }) =>
    unless(!supplies || supplies.basis.length > 0, AT_JOB, 'Write `on` under `supplies` in the shop file'),
  'waste-itemised': ({ lines }) =>
    withLines(
      lines.filter((line) => line.waste && line.sort !== 'fee'),
      'Put it on a fee line of its own',
    ),
  'mixed-parts': ({ lines }) =>
    withLines(
      lines.filter((line) => line.contents?.some((condition) => condition === undefined)),
      'Not every part in it states its condition',
    ),
  subcontractors: ({ lines }) =>
    withLines(
      lines.filter((line) => line.sort === 'sublet' && !line.supplier),
      'Write `supplier`',
    ),
  'warranty-work': ({ claim, lines }) =>
    unless(
      !claim || lines.some((line) => line.underWarranty),
      ['follows'],
      'The earlier job is under warranty: name the payer of the lines that it pays',
    ),
  'reassembly-price': ({ job: { teardown }, lines }) => {
    if (!teardown || teardown['in-boxes']) return undefined;
    const priced = lines.some((line) => line.ifDeclined && line.amount !== undefined);
    return unless(priced, ['teardown'], 'Write the lines of reassembly and refitting under `if-declined`');
  },
  'destroyed-parts': ({ job: { teardown }, lines }) =>
    unless(
      !teardown || lines.some((line) => !line.ifDeclined && line.sort === 'part'),
      ['teardown', 'lines'],
      'Add gaskets, seals and O-rings to the lines of the teardown',
    ),
  'reassembly-days': ({ job: { teardown } }) =>
    unless(!teardown || teardown.days !== undefined, ['teardown'], 'Write `days` under `teardown`'),
  'restoration-notice': ({ job: { teardown } }) =>
    unless(!teardown || teardown.notice, ['teardown'], 'Write `notice` under `teardown`'),
  'completion-date': ({ job }) => unless(job.promised ?? job.completed, AT_JOB, 'Write `promised`'),
  authorization: ({ job }) => unless(job.authorizations?.length, AT_JOB, 'Write it under `authorizations`'),
};

function withLines(lines: readonly PaperLine[], text: string): Lack | undefined {
  const first = lines[0];
  return first && { text: `${text}: ${list(lines.map((line) => line.name))}`, path: first.path };
}

/** Where the law asks for the word at every part, each line tells of it; where it reads silence as new, an estimate may be silent. */
function silentParts({ kind, lines }: Paper, { words }: Jurisdiction): Lack | undefined {
  const reading = words?.['unstated-condition'];
  if (reading === 'missing' || (reading === 'new' && kind === 'estimate')) return undefined;
  const silent = lines.filter(
    (line) => line.sort === 'part' && line.condition === undefined && !line.supplied && !line.fluid,
  );
  return withLines(silent, 'No condition');
}

/** Parts, services and tax each have a total, and together they make the whole. */
function separateTotals({ totals }: Paper): Lack | undefined {
  if (!totals) return undefined;
  if (totals.lumpSum)
    return at(AT_JOB, 'The shop bills one sum: write `billing: separated` under `tax` in the shop file');
  const whole = sum([...totals.subtotals, totals.tax]);
  return unless(whole.eq(totals.total), AT_JOB, `They add up to ${whole}, and the total is ${totals.total}`);
}
