import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { SourceFile } from '../../../server/src/syntax/file.ts';
import { SYNTAX_CODES } from '../../../server/src/syntax/problems.ts';

const codesIn = (text: string) =>
  [...SourceFile.open('file:///x.yaml', text, new Set(['parts'])).allProblems()].map(
    ({ problem }) => problem.code,
  );

describe('each syntax code', () => {
  it.each(SYNTAX_CODES.map((page) => [page.code, page] as const))(
    '%s has an example that shows it and a mended one',
    (code, page) => {
      expect(codesIn(page.bad)).toContain(code);
      expect(codesIn(page.mend)).toEqual([]);
    },
  );

  it('has one page, and no page is for a code that is never reported', () => {
    const pages = SYNTAX_CODES.map((page) => page.code);
    expect(new Set(pages).size).toBe(pages.length);
    const folder = new URL('../../../server/src/syntax/', import.meta.url);
    const sources = readdirSync(folder)
      .filter((name) => name !== 'problems.ts')
      .map((name) => readFileSync(new URL(name, folder), 'utf8'));
    const reported = new Set(
      sources
        .join('')
        .match(/'yaml-[a-z-]+'/g)!
        .map((quoted) => quoted.slice(1, -1)),
    );
    expect([...reported].sort()).toEqual([...pages].sort());
  });

  it.each(SYNTAX_CODES.map((page) => [page.code, page] as const))('%s speaks plainly', (_code, page) => {
    const said = `${page.title} ${page.explanation} ${[...SourceFile.open('file:///x.yaml', page.bad, new Set(['parts'])).allProblems()].map((p) => p.problem.message).join(' ')}`;
    expect(said).not.toMatch(
      /\b(scalar|mapping|sequence|token|node|parser?|indicator|implicit|UTF|flow|expected)\b/i,
    );
  });
});
