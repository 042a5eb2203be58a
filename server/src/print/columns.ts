/** Text in columns. */

export interface Column {
  readonly align: 'left' | 'right';
  /** At most so wide; longer text is cut with an ellipsis. */
  readonly most?: number;
}

export function columns(
  rows: readonly (readonly string[])[],
  layout: readonly Column[],
  indent = '',
): string[] {
  const cut = (text: string, most = 60) => (text.length > most ? `${text.slice(0, most - 1)}…` : text);
  const cells = rows.map((row) => layout.map((column, i) => cut(row[i] ?? '', column.most)));
  const widths = layout.map((_, i) => Math.max(0, ...cells.map((row) => row[i]!.length)));
  return cells.map((row) =>
    `${indent}${row
      .map((cell, i) => (layout[i]!.align === 'right' ? cell.padStart(widths[i]!) : cell.padEnd(widths[i]!)))
      .join('  ')}`.trimEnd(),
  );
}

export function rule(width: number): string {
  return '─'.repeat(width);
}

/** Text on lines of at most so many characters; words are not cut. */
export function wrapped(text: string, width: number): string[] {
  const lines: string[] = [];
  for (const word of text.trim().split(/\s+/)) {
    const last = lines.at(-1);
    if (last !== undefined && last.length + 1 + word.length <= width)
      lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines;
}
