import { describe, expect, it } from 'vitest';
import { SourceFile } from '../../../server/src/syntax/file.ts';
import { toPlain } from '../../../server/src/syntax/node.ts';
import { readPiece } from '../../../server/src/syntax/read.ts';

const SIZE = 60_000;
const fill = (part: string) => part.repeat(SIZE / part.length);
const stairs = (mark: string, count: number) =>
  Array.from({ length: count }, (_, i) => `${' '.repeat(i)}${mark}\n`).join('');

/** Processor time, so that a busy machine does not matter. The slowest takes one second; uncapped it took minutes or overflowed. */
const LIMIT_MS = 8000;

function spent(work: () => void): number {
  const before = process.cpuUsage();
  work();
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1000;
}

const TEXTS: Record<string, string> = {
  'open brackets': `a: ${fill('[')}`,
  'open braces': fill('{a: '),
  'closed brackets, 10,000 deep': `a: ${'['.repeat(10_000)}${']'.repeat(10_000)}\n`,
  'dashes on one line': fill('- '),
  'question marks on one line': fill('? '),
  'names on one line': fill('a: '),
  'names set in ever deeper': stairs('a:', 650),
  'dashes set in ever deeper': stairs('-', 650),
  'closing brackets': fill(']'),
  'lines of closing brackets': `a: b\n${fill(']\n')}`,
  quotes: fill('"'),
  'open quotes': fill('a: "x\n'),
  'one open quote over all lines': `a: "${fill('x\n ')}`,
  backslashes: `a: "${fill('\\')}`,
  anchors: `a: ${fill('&a ')}`,
  tags: `a: ${fill('!a ')}`,
  aliases: `a: [${fill('*a,')}]`,
  colons: fill(':'),
  commas: `a: [${fill(',')}]`,
  tabs: fill('\tx: 1\n'),
  'control characters': fill('\u0000'),
  'halves of surrogate pairs': fill('\ud800'),
  'lone carriage returns': fill('\r'),
  'lines without colons': `a: 1\n${fill('foo\n')}`,
  'lines out of line': fill('a: 1\n b: 2\n'),
  'one name again and again': fill('a: 1\n'),
  'document marks': fill('---\n'),
  'document ends': fill('...\n'),
  directives: fill('%a\n'),
  'open brackets and quotes': fill('a: [{b: "c\n'),
  'spaces after a value': `a: x${fill(' ')}`,
  'a long name': `${fill('x')}: 1`,
  'a long value': `a: ${fill('x')}`,
  'a long list over lines': `a: [\n${fill('  x,\n')}]`,
};

describe('hostile text is read in bounded time', () => {
  it.each(Object.keys(TEXTS))('%s', (name) => {
    const text = TEXTS[name]!;
    const ms = spent(() => {
      const { node, problems } = readPiece(text);
      expect(problems.length).toBeLessThanOrEqual(200);
      toPlain(node);
      const file = SourceFile.open('file:///x.yaml', text, new Set(['a']));
      file.edit([{ range: { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } }, text: 'x' }]);
      expect(file.problems.length).toBeLessThanOrEqual(2000);
    });
    expect(ms).toBeLessThan(LIMIT_MS);
  });

  it('repeats of repeats stop at ten thousand values', () => {
    const levels = Array.from(
      { length: 25 },
      (_, i) =>
        `${String.fromCharCode(98 + i)}: &${String.fromCharCode(98 + i)} [${Array(10)
          .fill(`*${String.fromCharCode(97 + i)}`)
          .join(', ')}]\n`,
    );
    const { node, problems } = readPiece(`a: &a [x, x, x, x, x, x, x, x, x, x]\n${levels.join('')}`);
    expect(problems.map((problem) => problem.code)).toEqual(['yaml-alias-limit']);
    expect(JSON.stringify(toPlain(node)).length).toBeLessThan(100_000);
  });

  it('a block that is not plain and over the limit is refused, a plain one is read', () => {
    const lines = '  - x\n'.repeat(60_000);
    expect(readPiece(`a:\n${lines}`).problems).toEqual([]);
    expect(readPiece(`a:\n${lines}  - "x\n    y"\n`).problems.map((problem) => problem.code)).toEqual([
      'yaml-too-large',
    ]);
  });

  it('a million lines are one piece as well as a million', () => {
    const ms = spent(() => {
      const one = SourceFile.open('file:///x.yaml', `a:\n${'- x\n'.repeat(1_000_000)}`, new Set(['parts']));
      expect(one.size).toBe(1);
      expect(one.at(0).read().problems).toEqual([]);
      const entries = Array.from({ length: 250_000 }, (_, i) => `  P-${i}:\n    a: x\n    b: y\n    c: z\n`);
      const many = SourceFile.open('file:///x.yaml', `parts:\n${entries.join('')}`, new Set(['parts']));
      expect([many.size, many.lineCount, many.problems.length]).toEqual([250_001, 1_000_002, 0]);
    });
    expect(ms).toBeLessThan(2 * LIMIT_MS);
  });
});
