/** A report as a page of the editor: no script, nothing loaded but its own style sheet. */
import { escape as escaped } from 'html-escaper';
import type { ReportAnswer } from '../../server/src/features/upkeep/reports.ts';

type Report = ReportAnswer['report'];
type Table = Report['tables'][number];
type Cell = Table['rows'][number][number];

export interface PageSetting {
  readonly language: string;
  /** Address of the style sheet, and where it may come from. */
  readonly css: string;
  readonly source: string;
  readonly dearer: string;
  readonly cheaper: string;
  readonly chart: string;
}

export function reportPage({ report, bars }: ReportAnswer, setting: PageSetting): string {
  const policy = [
    "default-src 'none'",
    `style-src ${setting.source}`,
    "base-uri 'none'",
    "form-action 'none'",
  ];
  return `<!DOCTYPE html>
<html lang="${escaped(setting.language)}">
<head>
  <meta charset="utf-8">
  <meta http-equiv="Content-Security-Policy" content="${escaped(policy.join('; '))}">
  <meta name="viewport" content="width=device-width, initial-scale=1">
  <link rel="stylesheet" href="${escaped(setting.css)}">
  <title>${escaped(report.title)}</title>
</head>
<body>
  <main>
    <h1>${escaped(report.title)}</h1>
    ${report.lead.map((line) => `<p>${escaped(line)}</p>`).join('\n    ')}
    ${bars.length > 0 ? chart(bars, setting) : ''}
    ${report.tables
      .filter(({ rows }) => rows.length > 0)
      .map(table)
      .join('\n    ')}
  </main>
</body>
</html>`;
}

function table({ title, note, columns, rows, sum }: Table): string {
  const figure = (i: number) => (columns[i]?.figure ? ' class="figure"' : '');
  const row = (cells: readonly Cell[]) =>
    `<tr>${cells.map((one, i) => `<td${figure(i)}>${linked(one)}</td>`).join('')}</tr>`;
  return `<section>
    <h2>${escaped(title)}</h2>
    ${note ? `<p class="note">${escaped(note)}</p>` : ''}
    <table>
      <thead><tr>${columns.map(({ head }, i) => `<th scope="col"${figure(i)}>${escaped(head)}</th>`).join('')}</tr></thead>
      <tbody>${rows.map(row).join('\n')}</tbody>
      ${sum ? `<tfoot>${row(sum)}</tfoot>` : ''}
    </table>
  </section>`;
}

function linked({ text, at }: Cell): string {
  if (!at || text === '') return escaped(text);
  const target = encodeURIComponent(JSON.stringify([`${at.uri}#L${at.line + 1}`]));
  return `<a href="command:vscode.open?${escaped(target)}">${escaped(text)}</a>`;
}

const WIDTH = 640;
const NAMES = 150;
const LABELS = 96;
const ROW = 24;

/** Bars to both sides of a line: full to the right for what gets dearer, hollow to the left for what gets cheaper. */
function chart(bars: ReportAnswer['bars'], { chart: title, dearer, cheaper }: PageSetting): string {
  const most = Math.max(...bars.map(({ value }) => value), 0);
  const least = Math.min(...bars.map(({ value }) => value), 0);
  const room = WIDTH - NAMES - LABELS * (least < 0 ? 2 : 1);
  const scale = room / (most - least || 1);
  const zero = NAMES + (least < 0 ? LABELS : 0) - least * scale;
  const top = ROW;
  const drawn = bars.map(({ name, label, value }, i) => {
    const y = top + i * ROW;
    const width = Math.max(Math.abs(value) * scale, 1);
    const up = value >= 0;
    const x = up ? zero : zero - width;
    const at = up ? zero + width + 6 : zero - width - 6;
    return [
      `<text x="0" y="${y + 16}">${escaped(cut(name))}</text>`,
      `<rect class="${up ? 'up' : 'down'}" x="${tenth(x)}" y="${y + 4}" width="${tenth(width)}" height="${ROW - 8}"/>`,
      `<text x="${tenth(at)}" y="${y + 16}"${up ? '' : ' text-anchor="end"'}>${escaped(label)}</text>`,
    ].join('');
  });
  const height = top + bars.length * ROW + 4;
  const legend = [
    most > 0 ? `<text x="${tenth(zero + 4)}" y="14" class="legend">${escaped(dearer)} →</text>` : '',
    least < 0
      ? `<text x="${tenth(zero - 4)}" y="14" class="legend" text-anchor="end">← ${escaped(cheaper)}</text>`
      : '',
  ];
  const words = `${title}: ${bars.map(({ name, label }) => `${name} ${label}`).join(', ')}`;
  return `<figure><figcaption>${escaped(title)}</figcaption><svg viewBox="0 0 ${WIDTH} ${height}" role="img" aria-label="${escaped(words)}">${legend.join('')}${drawn.join('')}<line class="axis" x1="${tenth(zero)}" y1="18" x2="${tenth(zero)}" y2="${height}"/></svg></figure>`;
}

function cut(name: string): string {
  return [...name].length > 18 ? `${[...name].slice(0, 17).join('')}…` : name;
}

function tenth(value: number): string {
  return String(Math.round(value * 10) / 10);
}
