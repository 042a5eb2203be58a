/** The estimate: head, what is missing, options side by side, chart, lines. */
import type { Range } from 'vscode-languageserver-types';
import type { EstimateView, Figure, SaleView } from '../../../server/src/features/client/estimate-view.ts';
import type { FromPage, ToPage } from '../messages.ts';
import type { Words } from '../words.ts';
import { chart } from './chart.ts';
import { button, element, put } from './element.ts';
import { linesOf } from './lines.ts';
import { missingSection } from './missing.ts';

export interface Acts {
  readonly tell: (message: FromPage) => void;
  /** Asks how a number came about; `from` is what was pressed. */
  readonly explain: (sale: string, figure: string, from: HTMLElement) => void;
}

export function showEstimate(
  page: HTMLElement,
  { view, words, state }: Extract<ToPage, { type: 'show' }>,
  acts: Acts,
): void {
  if (!view) {
    page.replaceChildren(emptyState(words, state, acts));
    return;
  }
  page.replaceChildren(
    head(view),
    missingSection(view, words, acts),
    sideBySide(view.options, words.options, words, acts),
    ...(view.teardown.length > 0
      ? [sideBySide(named(view.teardown, words), words.teardown, words, acts)]
      : []),
    ...view.options.map((sale) => linesOf(sale, words, acts, view.options.length === 1 || sale.chosen)),
    element('p', { class: 'quiet' }, words.demo),
  );
}

function emptyState(words: Words, state: 'starting' | 'ready' | 'stopped', { tell }: Acts): HTMLElement {
  if (state === 'starting') return element('p', { class: 'empty' }, words.starting);
  if (state === 'ready') return element('p', { class: 'empty' }, words.noJob);
  return element(
    'div',
    { class: 'empty', role: 'alert' },
    element('p', {}, words.stopped),
    button(words.restart, () => tell({ type: 'restart' })),
  );
}

function head(view: EstimateView): HTMLElement {
  return element(
    'header',
    {},
    element('h1', {}, [view.job, view.customer].filter(Boolean).join(' · ')),
    element('p', {}, [view.vehicle, view.unit].filter(Boolean).join(' · ')),
    view.complaint ? element('blockquote', {}, view.complaint) : undefined,
  );
}

/** The two sales of a teardown have names of ours. */
function named(sales: readonly SaleView[], words: Words): SaleView[] {
  return sales.map((sale) => ({ ...sale, name: sale.sale === 'declined' ? words.declined : words.teardown }));
}

/** Options as columns, what they consist of as rows; the chart above shows the same numbers. */
function sideBySide(sales: readonly SaleView[], title: string, words: Words, acts: Acts): HTMLElement {
  const row = (label: string, cell: (sale: SaleView) => Node | string, attributes = {}) =>
    element(
      'tr',
      attributes,
      element('th', { scope: 'row' }, label),
      ...sales.map((sale) => element('td', {}, cell(sale))),
    );
  const figure = (sale: SaleView, one: Figure | undefined, label: string) =>
    one ? figureButton(sale, one, label, words, acts) : '';
  const kinds = new Set(sales.flatMap((sale) => sale.categories.map((one) => one.category)));
  const taxes = new Set(sales.flatMap((sale) => sale.taxes.map((one) => `${one.name} ${one.rate}`)));
  const discounts = new Set(sales.flatMap((sale) => sale.discounts.map((one) => one.name)));
  const payers = new Set(sales.flatMap((sale) => sale.shares.map((one) => one.name)));
  const options = sales.some((sale) => sale.kind !== undefined || sale.warranty !== undefined);
  return element(
    'section',
    {},
    element('h2', {}, title),
    chart(sales, words),
    element(
      'div',
      { class: 'scroll' },
      element(
        'table',
        { class: 'options' },
        element(
          'thead',
          {},
          element(
            'tr',
            {},
            element('th', { scope: 'col' }, words.option),
            ...sales.map((sale) => columnHead(sale, words, acts)),
          ),
        ),
        element(
          'tbody',
          {},
          ...(options ? [row(words.warranty, (sale) => warrantyOf(sale, words))] : []),
          ...[...kinds].map((category) =>
            row(words[category], (sale) =>
              figure(sale, sale.categories.find((one) => one.category === category)?.amount, words[category]),
            ),
          ),
          ...[...discounts].map((name) =>
            row(name, (sale) => figure(sale, sale.discounts.find((one) => one.name === name)?.amount, name)),
          ),
          row(words.beforeTax, (sale) => figure(sale, sale.subtotal, words.beforeTax)),
          ...[...taxes].map((name) =>
            row(name, (sale) =>
              figure(sale, sale.taxes.find((one) => `${one.name} ${one.rate}` === name)?.amount, name),
            ),
          ),
          row(words.total, (sale) => totalOf(sale, words, acts), { class: 'total' }),
          ...[...payers].map((name) =>
            row(name, (sale) => figure(sale, sale.shares.find((one) => one.name === name)?.amount, name)),
          ),
          ...(sales.some((sale) => sale.paid)
            ? [
                row(words.paid, (sale) => figure(sale, sale.paid, words.paid)),
                row(words.balance, (sale) => figure(sale, sale.balance, words.balance)),
              ]
            : []),
          row(words.hours, (sale) => figure(sale, sale.hours, words.hours)),
        ),
      ),
    ),
  );
}

function columnHead(sale: SaleView, words: Words, { tell }: Acts): HTMLElement {
  const facts = [
    sale.chosen && sale.id !== undefined ? words.chosen : '',
    sale.days === undefined ? '' : sale.days === 1 ? words.day : put(words.days, sale.days),
    sale.missing > 0 ? put(words.lacks, sale.missing) : '',
  ].filter(Boolean);
  const { range } = sale;
  return element(
    'th',
    { scope: 'col', class: sale.chosen && sale.id !== undefined ? 'chosen' : undefined, ...placeOf(range) },
    range
      ? button(sale.name, () => tell({ type: 'reveal', range }), {
          class: 'link',
          'data-key': `name ${sale.sale}`,
        })
      : sale.name,
    facts.length > 0 ? element('span', { class: 'facts' }, facts.join(' · ')) : undefined,
  );
}

function warrantyOf({ warranty, warrantyWithheld }: SaleView, words: Words): Node | string {
  if (warranty === undefined) return words.noWarranty;
  if (!warrantyWithheld) return warranty;
  return element('span', {}, `${warranty}: `, element('strong', {}, words.withheld));
}

function totalOf(sale: SaleView, words: Words, acts: Acts): Node {
  const total = figureButton(sale, sale.total, words.total, words, acts);
  if (sale.complete) return total;
  return element(
    'span',
    { title: words.incomplete },
    total,
    element('span', { class: 'facts' }, words.incomplete),
  );
}

export function figureButton(
  sale: SaleView,
  { key, text }: Figure,
  label: string,
  words: Words,
  { explain }: Acts,
): HTMLElement {
  const made = button(text, () => explain(sale.sale, key, made), {
    class: 'figure',
    title: put(words.askHow, `${label} ${text}`),
    'data-key': `${sale.sale} ${key}`,
  });
  return made;
}

/** Where a row stands in the job, for the mark of the cursor. */
export function placeOf(range: Range | undefined): Record<string, number | undefined> {
  return range ? { 'data-from': range.start.line, 'data-to': range.end.line } : {};
}
