/** A paper as plain text, for a terminal, a mail or a screen reader. */
import { columns, rule, wrapped } from '../columns.ts';
import type { Block, Card, Choose, Doc, Fact, Finding, Step, Table } from '../doc.ts';
import { clean } from './markup.ts';

const WIDTH = 78;
/** Widest first column of a table. */
const NAME = 46;

export function renderText(doc: Doc): string {
  const { head } = doc;
  const lines = [
    head.shop,
    ...head.address,
    '',
    `${head.what} ${head.number}`.trim(),
    ...(doc.notice === undefined ? [] : [doc.notice]),
    rule(WIDTH),
    ...factLines(head.facts, ''),
    ...doc.blocks.flatMap((one) => block(one, '')),
    '',
  ];
  return `${lines
    .map((line) => clean(line).trimEnd())
    .join('\n')
    .replaceAll(/\n{3,}/g, '\n\n')}\n`;
}

function block(one: Block, indent: string): string[] {
  switch (one.block) {
    case 'section':
      return [
        '',
        '',
        one.title.toLocaleUpperCase(),
        rule(WIDTH),
        ...one.blocks.flatMap((inner) => block(inner, indent)),
      ];
    case 'part':
      return [
        '',
        `${indent}${one.title}`,
        `${indent}${rule(one.title.length)}`,
        ...one.blocks.flatMap((inner) => block(inner, indent)),
      ];
    case 'text':
      return [
        '',
        ...(one.label === undefined ? [] : [`${indent}${one.label}:`]),
        ...paragraph(one.text, indent),
      ];
    case 'list':
      return one.items.flatMap((item) => hanging(`${indent}- `, item));
    case 'facts':
      return factLines(one.rows, indent);
    case 'table':
      return table(one, indent);
    case 'finding':
      return finding(one, indent);
    case 'chain':
      return one.steps.flatMap(({ label, value }, i) => [
        '',
        ...hanging(`${indent}${i + 1}. `, `${label}: ${value}`),
      ]);
    case 'cards':
      return one.cards.flatMap((card) => cardLines(card, indent));
    case 'chart':
      return table(one.table, indent);
    case 'choose':
      return choose(one, indent);
    case 'picture':
      return hanging(`${indent}[`, `${one.picture.image ? one.picture.caption : one.picture.missing}]`);
    case 'sign':
      return [
        '',
        ...one.lines.flatMap((line) => [
          `${indent}${line}: ${'_'.repeat(Math.max(8, WIDTH - line.length - 2 - indent.length))}`,
          '',
        ]),
      ];
    case 'steps':
      return one.steps.flatMap((step) => stepLines(step, indent));
  }
}

function paragraph(text: string, indent: string): string[] {
  return text
    .split(/\r?\n/)
    .flatMap((line) => wrapped(line, WIDTH - indent.length).map((part) => indent + part));
}

/** The first line after a mark, the others below it. */
function hanging(mark: string, text: string): string[] {
  const room = ' '.repeat(mark.length);
  return wrapped(text, WIDTH - mark.length).map((line, i) => (i === 0 ? mark : room) + line);
}

function factLines(facts: readonly Fact[], indent: string): string[] {
  return facts.flatMap(({ label, value }) => hanging(`${indent}${label}: `, value));
}

/** Long names go on below, beside nothing, so that figures stay in their columns. */
function table({ columns: heads, rows }: Table, indent: string): string[] {
  const room = WIDTH - indent.length;
  const widths = heads
    .slice(1)
    .map(({ title }, i) =>
      Math.max(
        title.length,
        ...rows.map(({ as, cells }) => (as === 'group' ? 0 : (cells[i + 1] ?? '').length)),
      ),
    );
  const first = Math.max(20, Math.min(NAME, room - widths.reduce((sum, width) => sum + width + 2, 0)));
  const layout = heads.map(({ align }, i) => ({ align, most: i === 0 ? 60 : 40 }));
  const names = rows.map(({ as, cells, aside }) =>
    wrapped([cells[0], aside].filter(Boolean).join(' · '), as === 'group' ? room : first),
  );
  const cells = rows.map(({ as, cells: [, ...rest] }, i) =>
    as === 'group' ? [''] : [names[i]![0] ?? '', ...rest],
  );
  const lines = columns(
    [heads.map(({ title }) => title), ...cells.map((row) => heads.map((_, i) => row[i] ?? ''))],
    layout,
    indent,
  );
  return [
    '',
    lines[0]!,
    `${indent}${rule(Math.max(...lines.map((line) => line.length)) - indent.length)}`,
    ...rows.flatMap(({ as, note }, i) => {
      if (as === 'group') return ['', `${indent}${names[i]!.join(' ')}`];
      const more = names[i]!.slice(1).map((part) => `${indent}  ${part}`);
      const told = note === undefined ? [] : wrapped(note, room - 4).map((part) => `${indent}    ${part}`);
      return [lines[i + 1]!, ...more, ...told];
    }),
  ];
}

function finding(one: Finding, indent: string): string[] {
  return [
    '',
    `${indent}${one.number}. ${one.title} (${one.verdict})`,
    ...(one.say === undefined ? [] : paragraph(one.say, `${indent}   `)),
    ...(one.drawing === undefined ? [] : paragraph(one.drawing.text, `${indent}   `)),
    ...factLines(one.facts, `${indent}   `),
    ...one.pictures.flatMap((picture) =>
      hanging(`${indent}   [`, `${picture.image ? picture.alt : picture.missing}]`),
    ),
    ...(one.video ? [`${indent}   ${one.video.label}: ${one.video.href}`] : []),
  ];
}

function cardLines({ title, mark, figure, figureLabel, text, facts }: Card, indent: string): string[] {
  return [
    '',
    `${indent}${title}${mark === undefined ? '' : ` (${mark})`}`,
    `${indent}   ${figureLabel}: ${figure}`,
    ...(text === undefined ? [] : paragraph(text, `${indent}   `)),
    ...factLines(facts, `${indent}   `),
  ];
}

function choose({ intro, choices }: Choose, indent: string): string[] {
  return [
    ...paragraph(intro, indent),
    ...choices.flatMap(({ name, variants }) => [
      '',
      `${indent}${name}`,
      ...variants.flatMap(({ total, effect, answer }) => [
        ...hanging(`${indent}- `, `${total} ${effect}`),
        `${indent}  ${answer.replace('{name}', '______')}`,
      ]),
    ]),
  ];
}

function stepLines({ title, aside, facts, fields, cautions }: Step, indent: string): string[] {
  const inner = `${indent}    `;
  return [
    '',
    ...hanging(`${indent}[ ] `, `${title}${aside === '' ? '' : `  ${aside}`}`),
    ...factLines(facts, inner),
    ...cautions.flatMap(({ text, authority }) => hanging(`${inner}! `, `${text} ${authority}`)),
    ...fields.flatMap(({ label, limit, filled }) =>
      hanging(inner, `${label}: ${filled ?? '________'}${limit === '' ? '' : `  (${limit})`}`),
    ),
  ];
}
