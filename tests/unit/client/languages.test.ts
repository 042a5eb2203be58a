import { describe, expect, it, vi } from 'vitest';

vi.mock('vscode', () => ({}));
const { languageFor } = await import('../../../client/languages.ts');

describe('languageFor', () => {
  it('gives a file back to YAML when its kind is none of ours and there is no book', () => {
    expect(languageFor('apiVersion: batch/v1\nkind: Job\n', 'gearquill-job', false)).toBe('yaml');
    expect(languageFor('groups:\n  - name: x\n', 'gearquill-rules', false)).toBe('yaml');
  });

  it('keeps it when there is a book, or nothing is written yet', () => {
    expect(languageFor('groups:\n', 'gearquill-rules', true)).toBeUndefined();
    expect(languageFor('# later\n\n', 'gearquill-rules', false)).toBeUndefined();
    expect(languageFor('kind: rules\n', 'gearquill-rules', false)).toBeUndefined();
  });

  it('takes a file of another name whose kind is ours, inside a book', () => {
    expect(languageFor('# ours\nkind: parts # all\n', 'yaml', true)).toBe('gearquill-parts');
    expect(languageFor('kind: parts\n', 'yaml', false)).toBeUndefined();
    expect(languageFor('kind: Parts\n', 'yaml', true)).toBeUndefined();
  });

  it('goes by the kind, not by the name', () => {
    expect(languageFor('kind: labor\n', 'gearquill-parts', true)).toBe('gearquill-labor');
  });
});
