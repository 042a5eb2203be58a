/** What every sheet works with. */
import type { JobFinding } from '../../../../schemas/kinds/job.ts';
import type { Paper } from '../../../../schemas/kinds/own.ts';
import { addDays } from '../../../../schemas/values/dates.ts';
import type { JobEstimate, OptionEstimate } from '../../estimate/estimate.ts';
import { type Doc, type Fact, facts, type Head, type Picture } from '../doc.ts';
import { type Printer, printerFor } from '../locale.ts';
import { imageOf } from '../pictures.ts';
import { fileName, type Source } from '../source.ts';
import type { Word } from '../words/index.ts';
import { ownOfJob } from './own.ts';

export interface Sheet {
  readonly source: Source;
  readonly estimate: JobEstimate;
  readonly printer: Printer;
  readonly paper: Paper;
}

export function sheetOf(source: Source, paper: Paper): Sheet {
  return { source, estimate: source.estimate, printer: printerFor(source.estimate), paper };
}

/** The option that a sheet of the shop is about: the chosen one, or one by its name. */
export function optionFor({ estimate }: Sheet, id?: string): OptionEstimate | undefined {
  return id === undefined
    ? (estimate.chosen ?? estimate.options[0])
    : estimate.options.find((one) => one.id === id);
}

export function docOf(sheet: Sheet, what: Word, blocks: Doc['blocks'], more: readonly Fact[] = []): Doc {
  const { estimate, printer } = sheet;
  const { job, policy } = estimate;
  const head = headOf(sheet, what);
  return {
    lang: printer.lang,
    title: `${head.what} ${head.number}`.trim(),
    head: { ...head, facts: [...head.facts, ...ownOfJob(sheet), ...more] },
    blocks,
    foot: [policy.shop.name, head.what, head.number].filter(Boolean).join(' · '),
    pageLabel: printer.say('page'),
    day: job.completed ?? job.presented ?? job.opened ?? policy.on,
    notice: job.demo || policy.shop.demo ? printer.say('demo') : undefined,
  };
}

function headOf({ estimate, printer }: Sheet, what: Word): Head {
  const { job, policy, customer, unit } = estimate;
  const { shop } = policy;
  const { vehicle } = job;
  const { say } = printer;
  const drive = vehicle?.drive && say(`drive.${vehicle.drive}`);
  const car = [vehicle?.year, vehicle?.make, vehicle?.model, vehicle?.engine, drive]
    .filter(Boolean)
    .join(' ');
  const valid = shop.estimates?.['valid-days'];
  const from = job.presented ?? job.opened;
  return {
    shop: shop.name ?? '',
    address: [
      ...(shop.address ?? []),
      ...[shop.phone, shop.email].filter((one) => one !== undefined),
      ...(shop.registration === undefined ? [] : [say('registration', { number: shop.registration })]),
    ],
    what: say(what),
    number: job.id ?? '',
    facts: facts([
      [say('customer'), [customer?.name, ...(customer?.address ?? [])].filter(Boolean).join(', ')],
      [say('telephone'), [customer?.phone, customer?.email].filter(Boolean).join(', ')],
      [say('vehicle'), car],
      [say('vin'), vehicle?.vin],
      [say('plate'), vehicle?.plate],
      [say('odometer'), vehicle?.odometer && printer.quantity(vehicle.odometer)],
      [say('unit'), unit?.name],
      [say('opened'), job.opened && printer.date(job.opened)],
      [say('presented'), job.presented && printer.date(job.presented)],
      [say('promised'), job.promised && printer.date(job.promised)],
      [
        say('valid-until'),
        what === 'estimate' && valid !== undefined && from ? printer.date(addDays(from, valid)) : undefined,
      ],
    ]),
  };
}

/** A finding of the job as written, whether in one word or in full. */
export function writtenOf(estimate: JobEstimate, id: string): Exclude<JobFinding, string> {
  const written = estimate.job.findings?.[id];
  return typeof written === 'object' ? written : { value: written ?? '' };
}

export async function pictureOf(
  { source, printer }: Sheet,
  path: string,
  caption: string,
  alt: string,
  finding?: string,
): Promise<Picture> {
  const bytes = source.file(path, finding);
  const image = bytes && (await imageOf(bytes));
  const missing = image ? undefined : printer.say('picture-missing', { name: fileName(path) });
  return { image, missing, alt, caption };
}
