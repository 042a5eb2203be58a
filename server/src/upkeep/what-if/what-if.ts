/** What a change of the book would do to its jobs, one by one and in sum. Nothing is written. */
import type { Template } from '../../../../schemas/kinds/template.ts';
import type { BookFile } from '../../book/file.ts';
import type { Estimates } from '../../estimate/estimates.ts';
import { isOpen, jobFiles, jobOf, nameOf } from '../jobs.ts';
import { type Asked, type Figures, figuresOf, type Sums, sumsOf } from './figures.ts';
import { asIs, overlaid, type Replacements } from './overlay.ts';
import { sketchOf } from './sketch.ts';

export const OVER = {
  open: 'jobs that are not done',
  all: 'all jobs',
  templates: 'templates, each on a job of its own',
} as const;
export type Over = keyof typeof OVER;

export interface WhatIfRow {
  readonly name: string;
  readonly file: BookFile;
  readonly option: string | undefined;
  readonly optionName: string;
  readonly locked: boolean;
  readonly before: Figures;
  readonly after: Figures;
}

export interface WhatIf {
  readonly over: Over;
  readonly rows: readonly WhatIfRow[];
  readonly before: Sums;
  readonly after: Sums;
  /** Templates that cannot be priced by themselves, and why. */
  readonly leftOut: readonly { readonly name: string; readonly why: string }[];
}

/** One job after the other. `from`: what the book is compared as, where that is not as it is. */
export function* whatIf(
  estimates: Estimates,
  change: Replacements,
  over: Over,
  from?: Replacements,
): Generator<void, WhatIf> {
  const now = from ? overlaid(estimates, from) : asIs(estimates);
  const then = overlaid(estimates, change);
  const rows: WhatIfRow[] = [];
  const leftOut: { name: string; why: string }[] = [];
  const row = (file: BookFile, name: string, asked: Asked) => {
    const { option, name: optionName, figures } = figuresOf(asked, now);
    const locked = asked.job.lock !== undefined;
    const after = figuresOf(asked, then).figures;
    rows.push({ name, file, option, optionName, locked, before: figures, after });
  };
  if (over === 'templates') {
    for (const { id, facts } of estimates.book.registry.all('template')) {
      const job = sketchOf(estimates, facts.file.value as Partial<Template>);
      if ('why' in job) leftOut.push({ name: id, why: job.why });
      else row(facts.file, id, { job: job.job, uri: facts.file.uri, droppedOf: () => [] });
      yield;
    }
  } else {
    for (const file of jobFiles(estimates.book, over === 'open' ? isOpen : () => true)) {
      row(file, nameOf(file), { job: jobOf(file), uri: file.uri, droppedOf: (key) => file.droppedOf(key) });
      yield;
    }
  }
  return {
    over,
    rows,
    before: sumsOf(rows.map((one) => one.before)),
    after: sumsOf(rows.map((one) => one.after)),
    leftOut,
  };
}
