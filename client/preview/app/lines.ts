/** The lines of an option, by category. */
import type { CategoryView, LineView, SaleView } from '../../../server/src/features/client/estimate-view.ts';
import type { Words } from '../words.ts';
import { button, element, put } from './element.ts';
import { type Acts, figureButton, placeOf } from './estimate.ts';

export function linesOf(sale: SaleView, words: Words, acts: Acts, open: boolean): HTMLElement {
  return element(
    'details',
    { open, class: 'lines', 'data-key': `lines ${sale.sale}` },
    element('summary', {}, element('h2', {}, put(words.lines, sale.name))),
    element(
      'div',
      { class: 'scroll' },
      element(
        'table',
        {},
        element(
          'thead',
          {},
          element(
            'tr',
            {},
            ...[words.what, words.quantity, words.each, words.amount].map((title) =>
              element('th', { scope: 'col' }, title),
            ),
          ),
        ),
        ...sale.categories.map((category) => categoryRows(sale, category, words, acts)),
      ),
    ),
  );
}

function categoryRows(sale: SaleView, category: CategoryView, words: Words, acts: Acts): HTMLElement {
  const title = words[category.category];
  return element(
    'tbody',
    {},
    element(
      'tr',
      { class: 'category' },
      element('th', { scope: 'rowgroup', colspan: 3 }, title),
      element('td', {}, figureButton(sale, category.amount, title, words, acts)),
    ),
    ...category.lines.map((line) => row(sale, line, words, acts)),
  );
}

function row(sale: SaleView, line: LineView, words: Words, acts: Acts): HTMLElement {
  const { range } = line;
  const facts = [
    line.id,
    line.condition,
    line.optional ? words.optional : '',
    range ? '' : words.byItself,
  ].filter(Boolean);
  const name = range
    ? button(line.name, () => acts.tell({ type: 'reveal', range }), {
        class: 'link',
        'data-key': `go ${sale.sale} ${line.amount.key}`,
      })
    : line.name;
  return element(
    'tr',
    placeOf(range),
    element('th', { scope: 'row' }, name, element('span', { class: 'facts' }, facts.join(' · '))),
    element('td', {}, line.quantity),
    element('td', {}, line.each ?? ''),
    element('td', {}, figureButton(sale, line.amount, line.name, words, acts)),
  );
}
