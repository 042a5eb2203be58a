/** How one number came about, as a tree at the foot of the page. */
import type { FigureTree } from '../../../server/src/features/client/figures.ts';
import type { FromPage } from '../messages.ts';
import type { Words } from '../words.ts';
import { button, element } from './element.ts';

/** Levels that stand open at first. */
const OPEN = 2;

let pressed: string | undefined;

/** Remembers what was pressed, so that the focus goes back to it. */
export function openFigure(_: HTMLElement, from: HTMLElement): void {
  pressed = from.dataset.key;
}

export function showFigure(
  aside: HTMLElement,
  tree: FigureTree | undefined,
  words: Words,
  tell: (message: FromPage) => void,
): void {
  const close = button(words.close, () => closeFigure(aside), { class: 'close' });
  aside.replaceChildren(
    element('div', { class: 'head' }, element('h2', { tabindex: -1 }, words.howCame), close),
    tree
      ? element('ul', { class: 'tree' }, branch(tree, 0, words, tell))
      : element('p', {}, words.unknownFigure),
  );
  aside.setAttribute('aria-label', words.howCame);
  aside.hidden = false;
  aside.querySelector('h2')?.focus();
}

export function closeFigure(aside: HTMLElement): void {
  if (aside.hidden) return;
  aside.hidden = true;
  if (pressed !== undefined)
    document.querySelector<HTMLElement>(`[data-key=${CSS.escape(pressed)}]`)?.focus();
}

function branch(
  tree: FigureTree,
  depth: number,
  words: Words,
  tell: (message: FromPage) => void,
): HTMLElement {
  const { place, label, of } = tree;
  const link = (text: string) =>
    place ? button(text, () => tell({ type: 'open', place }), { class: 'link' }) : undefined;
  const facts = [
    element('span', { class: 'value' }, ` ${tree.value}`),
    element('span', { class: 'formula' }, tree.formula),
    tree.note ? element('span', { class: 'facts' }, tree.note) : undefined,
  ];
  if (of.length === 0)
    return element('li', { class: 'leaf' }, link(label) ?? element('span', {}, label), ...facts);
  // What opens and closes holds no other button: a screen reader would not tell of it.
  const go = link(words.goTo);
  return element(
    'li',
    {},
    element(
      'details',
      { open: depth < OPEN },
      element('summary', {}, element('span', {}, label), ...facts),
      element(
        'ul',
        {},
        go ? element('li', { class: 'leaf' }, go) : undefined,
        ...of.map((one) => branch(one, depth + 1, words, tell)),
      ),
    ),
  );
}
