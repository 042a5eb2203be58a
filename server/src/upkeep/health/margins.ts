/** Open jobs and templates that leave less than the shop's floors. */
import type { Template } from '../../../../schemas/kinds/template.ts';
import { type Decimal, dec } from '../../../../schemas/values/decimal.ts';
import type { Estimates } from '../../estimate/estimates.ts';
import { isOpen, jobFiles, jobOf, nameOf, placeIn } from '../jobs.ts';
import { type Asked, type Figures, figuresOf } from '../what-if/figures.ts';
import { asIs } from '../what-if/overlay.ts';
import { sketchOf } from '../what-if/sketch.ts';
import type { Finding } from './finding.ts';

export function* thinMargins(estimates: Estimates): Generator<void, Finding[]> {
  const { book } = estimates;
  const now = asIs(estimates);
  const findings: Finding[] = [];
  for (const file of jobFiles(book, isOpen)) {
    const asked: Asked = { job: jobOf(file), uri: file.uri, droppedOf: (key) => file.droppedOf(key) };
    const { option, figures } = figuresOf(asked, now);
    const says = wordsOf(figures);
    const at = placeIn(file, option === undefined ? ['id'] : ['options', option]);
    if (says)
      findings.push({ check: 'thin-margin', kind: 'job', id: nameOf(file), name: option ?? '', says, at });
    yield;
  }
  for (const { id, facts } of book.registry.all('template')) {
    const { file } = facts;
    const sketch = sketchOf(estimates, file.value as Partial<Template>);
    if ('why' in sketch) continue;
    const { figures } = figuresOf({ job: sketch.job, uri: file.uri, droppedOf: () => [] }, now);
    const says = figures.complete ? wordsOf(figures) : undefined;
    const name = String(file.value.name ?? '');
    if (says)
      findings.push({ check: 'thin-margin', kind: 'template', id, name, says, at: placeIn(file, ['id']) });
    yield;
  }
  return findings;
}

function wordsOf({ belowProfitFloor, belowRateFloor, profitShare, rate }: Figures): string | undefined {
  const told = [
    ...(belowProfitFloor && profitShare ? [`gross profit ${percent(profitShare)}`] : []),
    ...(belowRateFloor && rate ? [`an hour sold brings ${rate.toFixed(2)}`] : []),
  ];
  return told.length > 0 ? told.join(', ') : undefined;
}

function percent(share: Decimal): string {
  return `${share.times(dec('100'))}%`;
}
