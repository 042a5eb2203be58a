/** Totals at line ends and above sections, on the sample's coolant job. */
import { describe, expect, it } from 'vitest';
import { inlayHints, resolveInlayHint } from '../../../server/src/features/inlay.ts';
import { codeLenses } from '../../../server/src/features/lens.ts';
import { openSample } from '../sample/sample.ts';

const { book, estimates } = openSample();
const file = book.definition('job', 'J-1042')!.facts.file;
const lines = file.source.text().split('\n');
const whole = { start: { line: 0, character: 0 }, end: { line: lines.length, character: 0 } };
const hints = inlayHints(estimates, file, whole);
const on = (text: string) =>
  hints.filter((hint) => lines[hint.position.line]?.includes(text)).map((hint) => hint.label);

describe('inlay totals', () => {
  it('stand at the end of a line, before its comment', () => {
    expect(on('- part: FR-B6')).toEqual(['$248.50']);
    const core = hints.find((hint) => lines[hint.position.line]?.includes('- part: TC-B6-R'))!;
    expect(core.label).toBe('$384.25 + core $0.00');
    const fill = hints.find((hint) => lines[hint.position.line]?.includes('- fill: dry'))!;
    expect(fill.position.character).toBe(
      lines[fill.position.line]!.indexOf('#') - lines[fill.position.line]!.match(/\s+#/)![0].length + 1,
    );
  });

  it('stand beside options and the choice', () => {
    expect(on('  overhaul:')).toEqual(['$6,507.91']);
    expect(on('chosen: overhaul')).toEqual(['$6,507.91']);
  });

  it('tell how the number came about when asked', () => {
    const hint = hints.find((one) => lines[one.position.line]?.includes('- part: FR-B6'))!;
    const { tooltip } = resolveInlayHint(estimates, file, hint);
    expect((tooltip as { value: string }).value).toContain('locked price');
    expect((tooltip as { value: string }).value).toContain('248.5');
  });

  it('are only those of the lines that are asked for, and none in other files', () => {
    expect(
      inlayHints(estimates, file, { start: { line: 0, character: 0 }, end: { line: 5, character: 0 } }),
    ).toEqual([]);
    const parts = [...book.filesOf('parts')][0]!;
    expect(inlayHints(estimates, parts, whole)).toEqual([]);
  });
});

describe('code lenses', () => {
  it('show totals and what is missing by option', () => {
    const titles = codeLenses(estimates, file).map((lens) => lens.command?.title);
    expect(titles).toContain('Overhaul your unit: $6,507.91 · nothing missing · chosen');
    expect(titles).toHaveLength(3);
  });

  it('show who uses an entry', () => {
    const parts = book.definition('part', 'RAD-7120')!.facts.file;
    const titles = codeLenses(estimates, parts).map((lens) => lens.command?.title);
    expect(titles.some((title) => /^used by \d+ jobs?/.test(title ?? ''))).toBe(true);
  });
});
