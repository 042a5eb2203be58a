/** What is missing, on top, with a button for each way to mend it. */
import type { EstimateView, MissingView } from '../../../server/src/features/client/estimate-view.ts';
import type { FromPage, ToPage } from '../messages.ts';
import type { Words } from '../words.ts';
import { button, element, put } from './element.ts';
import { type Acts, placeOf } from './estimate.ts';

export function missingSection(view: EstimateView, words: Words, { tell }: Acts): HTMLElement {
  const { missing, otherProblems } = view;
  return element(
    'section',
    { class: 'missing' },
    element('h2', {}, missing.length === 0 ? words.missing : `${words.missing} (${missing.length})`),
    element('div', { class: 'fixes' }, element('span', { 'data-fixes': 'all' })),
    missing.length === 0
      ? element('p', {}, words.nothingMissing)
      : element('ul', {}, ...missing.map((one, i) => item(one, i, words, tell))),
    otherProblems > 0 ? element('p', {}, put(words.otherProblems, otherProblems)) : undefined,
  );
}

function item(
  missing: MissingView,
  at: number,
  words: Words,
  tell: (message: FromPage) => void,
): HTMLElement {
  const { severity, message, options, range } = missing;
  return element(
    'li',
    { class: severity, ...placeOf(range) },
    element('span', { class: 'sign' }, words[severity]),
    element(
      'p',
      {},
      message,
      options.length > 0
        ? element('span', { class: 'facts' }, put(words.lackedBy, options.join(', ')))
        : undefined,
    ),
    element(
      'div',
      { class: 'fixes' },
      element('span', { 'data-fixes': at }),
      button(words.goTo, () => tell({ type: 'reveal', range }), {
        class: 'link',
        'data-key': `go ${missing.id}`,
      }),
    ),
  );
}

export function showFixes(
  page: HTMLElement,
  { fixes, all }: Extract<ToPage, { type: 'fixes' }>,
  tell: (message: FromPage) => void,
): void {
  const place = (at: number | string) => page.querySelector(`[data-fixes="${at}"]`);
  const fix = (missing: number | undefined, title: string) =>
    button(title, () => tell({ type: 'fix', missing, title }), { 'data-key': `fix ${missing} ${title}` });
  place('all')?.replaceChildren(...(all === undefined ? [] : [fix(undefined, all)]));
  fixes.forEach((titles, missing) => {
    place(missing)?.replaceChildren(...titles.map((title) => fix(missing, title)));
  });
}
