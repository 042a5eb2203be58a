/** Plain Markdown, as any reader of it shows it. */

/** Text of the declarations in a paragraph or a cell of a table: on one line, and taken for nothing but text. */
export function prose(text: string): string {
  return text
    .replace(/\s+/g, ' ')
    .trim()
    .replace(/[<>|]/g, (sign) => `\\${sign}`);
}

export function code(text: string): string {
  return `\`${text.replaceAll('|', '\\|')}\``;
}

export function fence(text: string, language = 'yaml'): string {
  return `\`\`\`${language}\n${text.replace(/\n+$/, '')}\n\`\`\``;
}

export function link(text: string, target: string): string {
  return `[${text}](${target})`;
}

/** Columns that are empty in every row are left out. */
export function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const used = head.map((_, i) => rows.some((row) => row[i] !== ''));
  const line = (cells: readonly string[]) => `| ${cells.filter((_, i) => used[i]).join(' | ')} |`;
  return [line(head), line(head.map(() => '---')), ...rows.map(line)].join('\n');
}

/** The anchor that a heading gets. */
export function anchorOf(heading: string): string {
  return heading
    .toLowerCase()
    .replace(/[^\p{L}\p{N}_\- ]/gu, '')
    .replaceAll(' ', '-');
}

export function page(title: string, ...blocks: readonly (string | undefined)[]): string {
  const note = '<!-- Written by `npm run schemas` from the declarations; not by hand. -->';
  return `${[`# ${title}`, note, ...blocks.filter((one) => one !== undefined && one !== '')].join('\n\n')}\n`;
}
