/** A reading of a finding, from the text as typed. */
import type { Finding } from '../../../schemas/kinds/rules.ts';
import { accepted, type Parsed, refused } from '../../../schemas/values/parsed.ts';
import { compareQuantity, parseQuantity, type Quantity } from '../../../schemas/values/quantity.ts';
import { suggestion } from '../../../schemas/values/words.ts';

export type Reading =
  | { readonly kind: 'yes-no'; readonly yes: boolean }
  /** How far along the scale, from best (0) to worst. */
  | { readonly kind: 'scale'; readonly step: number }
  | { readonly kind: 'measurement'; readonly quantity: Quantity };

export function readReading(finding: Finding, text: string): Parsed<Reading> {
  const typed = text.trim();
  if (finding.kind === 'yes-no') {
    if (/^(yes|true)$/i.test(typed)) return accepted({ kind: 'yes-no', yes: true });
    if (/^(no|false)$/i.test(typed)) return accepted({ kind: 'yes-no', yes: false });
    return refused(`${finding.name} is answered yes or no, not "${typed}".`);
  }
  if (finding.kind === 'scale') {
    const words = finding.scale ?? [];
    const step = words.findIndex((word) => word.toLowerCase() === typed.toLowerCase());
    if (step >= 0) return accepted({ kind: 'scale', step });
    return refused(
      `"${typed}" is not on the scale of ${finding.name}: ${words.join(', ')}.${suggestion(typed, words)}`,
    );
  }
  if (!finding.dimension)
    return refused(`${finding.name} does not say what it measures: give it a dimension.`);
  const quantity = parseQuantity(typed, finding.dimension);
  return quantity.ok ? accepted({ kind: 'measurement', quantity: quantity.value }) : quantity;
}

/** The last step of a scale that is still normal: the first word, when nothing is said. */
export function lastNormalStep(finding: Finding): number {
  return finding.normal === undefined ? 0 : (finding.scale ?? []).indexOf(finding.normal);
}

/** How `a` stands to `b`, both of one finding: worse or more is above zero. */
export function compareReadings(a: Reading, b: Reading): number {
  if (a.kind === 'measurement' && b.kind === 'measurement') return compareQuantity(a.quantity, b.quantity);
  return rank(a) - rank(b);
}

function rank(reading: Reading): number {
  if (reading.kind === 'scale') return reading.step;
  return reading.kind === 'yes-no' && reading.yes ? 1 : 0;
}
