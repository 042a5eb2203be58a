/** The teardown as a sale of its own: its price, what it destroys, the price of putting it back, and how long that takes. */
import { type Part, present, type Section, section, text } from '../doc.ts';
import type { Sheet } from './context.ts';
import { linesTable } from './lines.ts';

export function teardownSection(sheet: Sheet): Section | undefined {
  const { estimate, printer } = sheet;
  const { say, money } = printer;
  const { teardown } = estimate;
  const terms = estimate.job.teardown;
  if (!teardown || !terms) return undefined;
  const opened = say('teardown.open');
  const back = say(terms['in-boxes'] ? 'teardown.boxes' : 'teardown.declined');
  const destroyed = teardown.teardown.lines
    .filter((line) => line.category === 'parts')
    .map((line) => line.name);
  const part = (title: string, priced: typeof teardown.teardown): Part => ({
    block: 'part',
    title,
    blocks: [linesTable(sheet, priced, { caption: title })],
  });
  return section('teardown', say('teardown'), [
    text(say('teardown.why')),
    text(terms.notice, 'strong'),
    text(destroyed.length > 0 ? say('teardown.parts', { names: printer.list(destroyed) }) : undefined),
    text(
      terms.days === undefined ? undefined : say('teardown.days', { days: say('days', { n: terms.days }) }),
    ),
    text(terms.storage === undefined ? undefined : say('teardown.storage', { amount: money(terms.storage) })),
    ...present([part(opened, teardown.teardown), part(back, teardown.declined)]),
  ]);
}
