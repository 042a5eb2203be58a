/** `explain CODE`: the page behind a diagnostic code. */

import { didYouMean } from '../../../schemas/values/words.ts';
import { pageOf, pages } from '../estimate/codes.ts';
import { UsageError } from './open.ts';

export function explainText(code: string): string {
  const page = pageOf(code);
  if (!page) {
    const near = didYouMean(
      code,
      pages().map((one) => one.code),
    );
    throw new UsageError(
      `There is no code "${code}".${near.length > 0 ? ` Did you mean ${near.join(' or ')}?` : ''}`,
    );
  }
  const example = page.example.split('\n').map((line) => `    ${line}`);
  return [
    `${page.code}: ${page.title}`,
    '',
    page.why,
    '',
    'For example:',
    '',
    ...example,
    '',
    `To mend it: ${page.mend}`,
  ].join('\n');
}
