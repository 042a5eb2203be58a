/** Where new entries go in a file, and the text of new files. Nothing here knows the editor. */

/** Text as part of a snippet: its own `$`, `}` and `\` stay what they are. */
export function literal(text: string): string {
  return text.replace(/[\\$}]/g, '\\$&');
}

/**
 * A snippet with some of its places filled: a text takes the place; null takes its whole line away.
 * Places that are not named stay to be filled in.
 */
export function fill(body: readonly string[], values: Readonly<Record<number, string | null>>): string[] {
  return body.flatMap((line) => {
    let gone = false;
    const filled = line.replace(/\$\{(\d+)(?::[^}]*|\|[^}]*\|)\}|\$(\d+)/g, (place, braced, bare) => {
      const value = values[Number(braced ?? bare)];
      if (value === null) gone = true;
      return value === undefined || value === null ? place : literal(value);
    });
    return gone ? [] : [filled];
  });
}

/** The line before which an entry of a section goes, and the lines that have to come first. */
export function entryPlace(text: string, section: string): { line: number; before: readonly string[] } {
  const lines = text.split(/\r\n|\n|\r/);
  const head = lines.findIndex((line) => new RegExp(`^${section}:\\s*(?:#.*)?$`).test(line));
  const end = trimmed(lines, lines.length);
  if (head === -1) return { line: end, before: end > 0 ? ['', `${section}:`] : [`${section}:`] };
  const next = lines.findIndex((line, i) => i > head && /^[^\s#]/.test(line));
  return { line: trimmed(lines, next === -1 ? lines.length : next), before: [] };
}

/** Without the empty lines, and the comments at the margin, that belong to what comes next. */
function trimmed(lines: readonly string[], from: number): number {
  let end = from;
  while (end > 0 && (/^\s*$/.test(lines[end - 1]!) || (from < lines.length && /^#/.test(lines[end - 1]!))))
    end--;
  return end;
}

/** The id after the last one: `J-1042` gives `J-1043`. */
export function nextId(ids: readonly string[], first: string): string {
  const numbered = ids
    .map((id) => /^(.*?)(\d+)$/.exec(id))
    .filter((match) => match !== null)
    .sort((a, b) => Number(a[2]) - Number(b[2]));
  const last = numbered.at(-1);
  if (!last) return first;
  const digits = last[2]!;
  return `${last[1]}${String(Number(digits) + 1).padStart(digits.length, '0')}`;
}

/** What a catalog id may be: it becomes a name in YAML as it is typed. */
export function isPlainId(id: string): boolean {
  return /^[A-Za-z0-9][A-Za-z0-9._/-]*$/.test(id);
}
