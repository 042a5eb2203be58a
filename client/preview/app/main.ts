/** The page of the preview: shows what it is told, and tells what is pressed. */
import type { FromPage, PageState, ToPage } from '../messages.ts';
import { showEstimate } from './estimate.ts';
import { closeFigure, openFigure, showFigure } from './figure.ts';
import { showFixes } from './missing.ts';

interface Api {
  postMessage(message: FromPage): void;
  setState(state: PageState): void;
}
declare function acquireVsCodeApi(): Api;

const api = acquireVsCodeApi();
const tell = (message: FromPage) => api.postMessage(message);
const page = document.getElementById('estimate')!;
const aside = document.getElementById('figure')!;
let last: Extract<ToPage, { type: 'show' }> | undefined;

window.addEventListener('message', ({ data }: MessageEvent<ToPage>) => {
  switch (data.type) {
    case 'show':
      return show(data);
    case 'fixes':
      return last && showFixes(page, data, tell);
    case 'cursor':
      return mark(data.line);
    case 'figure':
      return last && showFigure(aside, data.tree, last.words, tell);
  }
});

document.addEventListener('keydown', ({ key }) => {
  if (key === 'Escape') closeFigure(aside);
});

function show(message: Extract<ToPage, { type: 'show' }>): void {
  const otherJob = last?.view?.uri !== message.view?.uri;
  last = message;
  if (message.view) api.setState({ uri: message.view.uri });
  const kept = keepPlace(otherJob);
  showEstimate(page, message, {
    tell,
    explain: (sale, figure, from) => {
      openFigure(aside, from);
      tell({ type: 'figure', sale, figure });
    },
  });
  kept();
  if (otherJob) closeFigure(aside);
}

/** The page is drawn anew at every change; focus and scrolling stay where they were. */
function keepPlace(otherJob: boolean): () => void {
  const key = document.activeElement?.getAttribute('data-key');
  const top = window.scrollY;
  const opened = new Set([...page.querySelectorAll('details')].filter((one) => one.open).map(keyOf));
  const closed = new Set([...page.querySelectorAll('details')].filter((one) => !one.open).map(keyOf));
  return () => {
    if (otherJob) return window.scrollTo(0, 0);
    for (const one of page.querySelectorAll('details')) {
      if (opened.has(keyOf(one))) one.open = true;
      if (closed.has(keyOf(one))) one.open = false;
    }
    if (key) page.querySelector<HTMLElement>(`[data-key=${CSS.escape(key)}]`)?.focus({ preventScroll: true });
    window.scrollTo(0, top);
  };
}

function keyOf(one: Element): string | null {
  return one.getAttribute('data-key');
}

/** Marks the rows that stand on a line of the job. */
function mark(line: number): void {
  const rows = [...page.querySelectorAll<HTMLElement>('[data-from]')];
  const here = rows.filter(
    ({ dataset }) => Number(dataset.from) <= line && line <= Number(dataset.to ?? dataset.from),
  );
  for (const row of rows) row.classList.toggle('here', here.includes(row));
  const first = here.find((row) => row.matches('tr, li'));
  first?.closest('details')?.setAttribute('open', '');
  first?.scrollIntoView({ block: 'nearest' });
}

tell({ type: 'ready' });
