/** Figures that are more often a slip than a price; whoever takes the file in has to say that they are meant. */
import { type Decimal, dec, ZERO } from '../../../../schemas/values/decimal.ts';

export interface Figures {
  readonly cost: Decimal | undefined;
  readonly list: Decimal | undefined;
  readonly core: Decimal | undefined;
}

/** A price that moves further than this, up or down, is asked about; a point that slipped moves it ten times. */
const FURTHEST = dec('8');

/** What is doubtful about new figures beside the old ones. Figures that the file leaves out are the old ones. */
export function doubtsAbout(before: Figures, after: Figures): string[] {
  const doubts: string[] = [];
  for (const figure of ['cost', 'list', 'core'] as const) {
    const [old, now] = [before[figure], after[figure]];
    if (now === undefined || old?.eq(now)) continue;
    const slip = slipIn(old, now);
    if (slip && !(figure === 'core' && now.eq(ZERO))) doubts.push(`the ${WORD[figure]} ${slip}`);
  }
  if (turned(before, after, ({ cost, core }) => core && cost?.lt(core)))
    doubts.push('the cost is below the core charge');
  if (turned(before, after, ({ cost, list }) => list?.gt(ZERO) && cost?.gt(list)))
    doubts.push('the cost is above the list price');
  return doubts;
}

const WORD = { cost: 'cost', list: 'list price', core: 'core charge' } as const;

function slipIn(old: Decimal | undefined, now: Decimal): string | undefined {
  if (now.lt(ZERO)) return 'is below zero';
  if (now.eq(ZERO)) return 'is zero';
  if (!old?.gt(ZERO)) return undefined;
  if (now.gte(old.times(FURTHEST)))
    return `is ${now.div(old).toFixed(1)} times the old one${pointIn(now, old)}`;
  if (old.gte(now.times(FURTHEST)))
    return `is one part in ${old.div(now).toFixed(1)} of the old one${pointIn(old, now)}`;
  return undefined;
}

/** Near ten, a hundred or a thousand times, a decimal point has likely slipped. */
function pointIn(large: Decimal, small: Decimal): string {
  const near = ['10', '100', '1000'].some((power) => {
    const ratio = large.div(small.times(dec(power)));
    return ratio.gte(dec('0.8')) && ratio.lte(dec('1.25'));
  });
  return near ? '; a decimal point may have slipped' : '';
}

/** Not so before, and so now. */
function turned(before: Figures, after: Figures, is: (figures: Figures) => boolean | undefined): boolean {
  return is(after) === true && is(before) !== true;
}
