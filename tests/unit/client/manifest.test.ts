import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, vi } from 'vitest';
import { BUNDLE, bundleText } from '../../../client/strings.ts';
import { KINDS } from '../../../schemas/index.ts';
import { WORK } from '../../../schemas/kinds/labor.ts';
import { PART_KINDS } from '../../../schemas/kinds/shared.ts';

vi.mock('vscode', () => ({}));
const { KINDS: LANGUAGES } = await import('../../../client/languages.ts');

const ROOT = join(import.meta.dirname, '../../..');
const read = (path: string) => readFileSync(join(ROOT, path), 'utf8');
const manifest = JSON.parse(read('package.json'));
const { contributes } = manifest;

describe('the manifest', () => {
  it('has a language for every kind of file, by its usual name', () => {
    const languages = contributes.languages.map(
      (one: { id: string; extensions?: string[]; filenames?: string[] }) => [
        one.id,
        (one.extensions ?? one.filenames)?.[0],
      ],
    );
    expect(languages).toEqual(KINDS.map(({ kind, suffix }) => [`gearquill-${kind}`, suffix]));
    expect(LANGUAGES).toEqual(KINDS.map(({ kind }) => kind));
  });

  it('names only files that are there', () => {
    const paths = read('package.json')
      .match(/"(?:\.\/)?client\/[^"]+"/g)!
      .map((one) => one.slice(1, -1));
    expect(paths.length).toBeGreaterThan(20);
    expect(paths.filter((path) => !existsSync(join(ROOT, path)))).toEqual([]);
  });

  it('has a text for every string that it names, and no other', () => {
    const named = new Set(read('package.json').match(/(?<=%)[a-z][A-Za-z.]+(?=%")/g));
    expect(Object.keys(JSON.parse(read('client/package.nls.json'))).sort()).toEqual([...named].sort());
  });

  it('reaches every command from the keyboard: by a palette entry or a key', () => {
    const hidden = contributes.menus.commandPalette.filter((one: { when: string }) => one.when === 'false');
    expect(hidden).toEqual([]);
    for (const command of contributes.commands) expect(command.category).toBe('Gearquill');
  });

  it('sends nothing anywhere', () => {
    expect(read('package.json')).not.toMatch(/telemetry/i);
  });
});

describe('strings', () => {
  it('are all gathered for translators; run node client/strings.ts', () => {
    expect(readFileSync(BUNDLE, 'utf8')).toBe(bundleText());
  });
});

describe('what a new entry begins with', () => {
  const choices = (entry: string, key: string): string[] => {
    const body: string[] = JSON.parse(read('client/new/snippets.json'))[entry];
    return /\|(.*)\|/.exec(body.find((line) => line.includes(`${key}:`))!)![1]!.split(',');
  };

  it('offers the words that the declarations know', () => {
    expect(choices('part', 'kind')).toEqual(Object.keys(PART_KINDS));
    expect(choices('operation', 'work')).toEqual(Object.keys(WORK));
  });
});

describe('the problem matcher', () => {
  it('reads the lines of the check', () => {
    const { regexp } = contributes.problemMatchers[0].pattern;
    const line = 'jobs/J-1.job.yaml:16:3: error: Cooler flush is required and missing. [missing-work]';
    expect(new RegExp(regexp).exec(line)?.slice(1)).toEqual([
      'jobs/J-1.job.yaml',
      '16',
      '3',
      'error',
      'Cooler flush is required and missing.',
      'missing-work',
    ]);
  });
});
