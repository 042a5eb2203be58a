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
    tree ? element('ul', { class: 'tree' }, branch(tree, 0, tell)) : element('p', {}, words.unknownFigure),
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

function branch(tree: FigureTree, depth: number, tell: (message: FromPage) => void): HTMLElement {
  const { place } = tree;
  const words = [
    place
      ? button(tree.label, () => tell({ type: 'open', place }), { class: 'link' })
      : element('span', {}, tree.label),
    element('span', { class: 'value' }, ` ${tree.value}`),
    element('span', { class: 'formula' }, tree.formula),
    tree.note ? element('span', { class: 'facts' }, tree.note) : undefined,
  ];
  if (tree.of.length === 0) return element('li', { class: 'leaf' }, ...words);
  return element(
    'li',
    {},
    element(
      'details',
      { open: depth < OPEN },
      element('summary', {}, ...words),
      element('ul', {}, ...tree.of.map((one) => branch(one, depth + 1, tell))),
    ),
  );
}
