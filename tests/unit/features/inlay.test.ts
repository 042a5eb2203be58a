/** Totals at line ends and above sections, on the sample's coolant job. */
import { describe, expect, it } from 'vitest';
import type { InlayHint, InlayHintLabelPart } from 'vscode-languageserver-types';
import { inlayHints, resolveInlayHint } from '../../../server/src/features/inlay.ts';
import { codeLenses, resolveRuleLens } from '../../../server/src/features/lens.ts';
import { openSample } from '../sample/sample.ts';

const { book, estimates } = openSample();
const file = book.definition('job', 'J-1042')!.facts.file;
const lines = file.source.text().split('\n');
const whole = { start: { line: 0, character: 0 }, end: { line: lines.length, character: 0 } };
const hints = inlayHints(estimates, file, whole);
const text = ({ label }: InlayHint) => (label as InlayHintLabelPart[]).map((part) => part.value).join('');
const on = (written: string) =>
  hints.filter((hint) => lines[hint.position.line]?.includes(written)).map(text);

describe('inlay totals', () => {
  it('stand at the end of a line, before its comment', () => {
    expect(on('- part: FR-B6')).toEqual(['$248.50']);
    const core = hints.find((hint) => lines[hint.position.line]?.includes('- part: TC-B6-R'))!;
    expect(text(core)).toBe('$384.25 + core $0.00');
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
    const { tooltip, label } = resolveInlayHint(estimates, file, hint);
    const { value } = tooltip as { value: string };
    expect(value).toContain('locked price');
    expect(value).toContain('$248.50');
    const locked = lines.findIndex((line) => line.includes('FR-B6:    { price'));
    expect(value).toContain(`](<${file.uri}#L${locked + 1},`);
    expect((label as InlayHintLabelPart[])[0]!.location).toMatchObject({
      uri: file.uri,
      range: { start: { line: locked } },
    });
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

  it('count the cases that a rule holds in, once the lens is looked at', () => {
    const rules = book.definition('rule', 'coolant-opens-the-unit')!.facts.file;
    const lens = codeLenses(estimates, rules).find((one) => one.data?.rule === 'coolant-opens-the-unit')!;
    expect(lens.command).toBeUndefined();
    const cases = new Map([['coolant-opens-the-unit', 2]]);
    expect(resolveRuleLens(estimates, rules, lens, cases).command?.title).toMatch(/covered by 2 cases$/);
    expect(resolveRuleLens(estimates, rules, lens, new Map()).command?.title).toMatch(/no case covers it$/);
  });
});
