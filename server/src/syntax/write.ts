import { VALUE_LIMIT } from './limits.ts';
import type { Plain, ScalarStyle } from './node.ts';
import { readPiece } from './read.ts';

/** How values are written at one place: its column, line break, and whether brackets surround it. */
export interface Setting {
  readonly column: number;
  readonly eol: string;
  readonly flow: boolean;
  /** Whether something follows on the line, so that the value cannot go on below. */
  readonly oneLine?: boolean;
}

/** Spaces from one level to the next. */
export const STEP = 2;

/** Source text that reads back as `value`, in the style asked for if it can, else with as little quoting as will do. */
export function writeScalar(value: string, style: ScalarStyle, setting: Setting): string {
  if (
    !setting.flow &&
    !setting.oneLine &&
    (style === 'literal' || style === 'folded' || value.includes('\n'))
  ) {
    const block = writeLiteral(value, setting);
    if (block) return block;
  }
  const forms: Record<string, () => string> = {
    plain: () => value,
    single: () => `'${value.replaceAll("'", "''")}'`,
    double: () => writeDouble(value),
  };
  const wanted = forms[style] ?? forms.plain!;
  for (const form of [wanted, forms.plain!, forms.double!]) {
    const source = form();
    if (readsBack(source, value, setting.flow)) return source;
  }
  return writeDouble(value);
}

export function writeKey(key: string, style: ScalarStyle = 'plain'): string {
  const plain = key !== '<<' && readsAsKey(key, key);
  if (style === 'plain' && plain) return key;
  const single = `'${key.replaceAll("'", "''")}'`;
  if (style === 'single' && readsAsKey(single, key)) return single;
  return writeDouble(key);
}

/** `key: value` with the lines that follow; the first line carries no indentation, the others do. */
export function writePair(key: string, value: Plain, setting: Setting, keyStyle?: ScalarStyle): string {
  return `${writeKey(key, keyStyle)}:${writeBelow(value, setting)}`;
}

/** `- value` with the lines that follow. */
export function writeItem(value: Plain, setting: Setting): string {
  if (value === null) return '-';
  return `- ${writeCompact(value, { ...setting, column: setting.column + STEP })}`;
}

/** A value in brackets, or a single text, for one line. */
export function writeFlow(value: Plain): string {
  if (value === null) return '';
  if (typeof value === 'string') return writeScalar(value, 'plain', { column: 0, eol: '\n', flow: true });
  if (Array.isArray(value)) return `[${value.map(writeFlow).join(', ')}]`;
  return `{ ${Object.entries(value)
    .map(([key, inner]) => writeFlowPair(key, inner))
    .join(', ')} }`;
}

export function writeFlowPair(key: string, value: Plain): string {
  const source = writeKey(key);
  const safe = readsBack(source, key, true) ? source : writeDouble(key);
  return `${safe}: ${writeFlow(value)}`.trimEnd();
}

/** What follows `key:`. */
function writeBelow(value: Plain, setting: Setting): string {
  if (value === null) return '';
  if (typeof value === 'string') return ` ${writeScalar(value, 'plain', setting)}`;
  if (isEmpty(value)) return Array.isArray(value) ? ' []' : ' {}';
  const inner = { ...setting, column: setting.column + STEP };
  return `${setting.eol}${' '.repeat(inner.column)}${writeCompact(value, inner)}`;
}

/** A value whose first line stands at the setting's column already. */
function writeCompact(value: Plain, setting: Setting): string {
  if (value === null) return '';
  // A block text is set in from the dash, which stands one step to the left.
  if (typeof value === 'string')
    return writeScalar(value, 'plain', { ...setting, column: setting.column - STEP });
  if (isEmpty(value)) return Array.isArray(value) ? '[]' : '{}';
  const lines = Array.isArray(value)
    ? value.map((item) => writeItem(item, setting))
    : Object.entries(value).map(([key, inner]) => writePair(key, inner, setting));
  return lines.join(setting.eol + ' '.repeat(setting.column));
}

function isEmpty(value: Plain[] | { [key: string]: Plain }): boolean {
  return Array.isArray(value) ? value.length === 0 : Object.keys(value).length === 0;
}

/** The value as a `|` text set in one step from its name; undefined where that form cannot carry it. */
function writeLiteral(value: string, setting: Setting): string | undefined {
  const { indicator, lines } = literalParts(value, setting.column + STEP) ?? {};
  if (!indicator || !lines) return undefined;
  const source = [indicator, ...lines].join(setting.eol);
  const { node, problems } = readPiece(`${' '.repeat(setting.column)}k: ${source}${setting.eol}`);
  const read = node.type === 'map' && node.pairs.length === 1 ? node.pairs[0]!.value : undefined;
  return problems.length === 0 && read?.type === 'scalar' && read.text === value ? source : undefined;
}

/** Header and lines of a `|` text, or undefined where it cannot carry the value. */
export function literalParts(
  value: string,
  column: number,
): { indicator: string; lines: string[] } | undefined {
  const body = value.replace(/\n$/, '');
  if (body === '' || body.length > VALUE_LIMIT || /^[ \t\n]|\n$|\r/.test(body) || /[ \t](?:\n|$)/.test(body))
    return undefined;
  const pad = ' '.repeat(column);
  const lines = body.split('\n').map((line) => (line === '' ? '' : pad + line));
  return { indicator: value.endsWith('\n') ? '|' : '|-', lines };
}

const ESCAPES: Record<string, string> = {
  '\\': '\\\\',
  '"': '\\"',
  '\n': '\\n',
  '\t': '\\t',
  '\r': '\\r',
};

function writeDouble(value: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what has to be written as codes
  const body = value.replace(/[\\"\0-\x1f\x7f-\x9f\ufeff\u2028\u2029\ufffe\uffff]/g, (ch) => {
    return ESCAPES[ch] ?? `\\u${ch.charCodeAt(0).toString(16).padStart(4, '0')}`;
  });
  return `"${body}"`;
}

/** Whether a one-line source is read as this text, as a value after `k: ` or inside brackets. */
function readsBack(source: string, value: string, flow: boolean): boolean {
  // A tab in plain words would read back, but nobody would see it.
  if (/[\r\n\t]/.test(source)) return false;
  const { node, problems } = readPiece(flow ? `k: [${source}]\n` : `k: ${source}\n`);
  if (problems.length || node.type !== 'map' || node.pairs.length !== 1) return false;
  const read = node.pairs[0]!.value;
  const scalar = flow ? (read.type === 'list' && read.items.length === 1 ? read.items[0] : undefined) : read;
  return scalar?.type === 'scalar' && scalar.text === value;
}

function readsAsKey(source: string, key: string): boolean {
  if (/[\r\n]/.test(source) || source.length > 1000) return false;
  const { node, problems } = readPiece(`${source}: v\n`);
  return (
    problems.length === 0 && node.type === 'map' && node.pairs.length === 1 && node.pairs[0]!.key.text === key
  );
}
