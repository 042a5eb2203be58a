// biome-ignore-all lint/suspicious/noTemplateCurlyInString: snippets of the editor
import { describe, expect, it } from 'vitest';
import { entryPlace, fill, isPlainId, literal, nextId } from '../../../client/new/text.ts';

describe('fill', () => {
  it('puts a text in its place, takes away the line of null, and leaves the rest to be filled in', () => {
    const body = ['$1:', '  name: ${2:Name}', '  role: ${3:role}', '  kind: ${4|soft,hard|}'];
    expect(fill(body, { 1: 'TC-1', 3: null })).toEqual([
      'TC-1:',
      '  name: ${2:Name}',
      '  kind: ${4|soft,hard|}',
    ]);
    expect(fill(body, { 4: 'hard' }).at(-1)).toBe('  kind: hard');
  });

  it('keeps what a snippet would read as its own', () => {
    expect(literal('a$b}c\\d')).toBe('a\\$b\\}c\\\\d');
  });
});

describe('entryPlace', () => {
  const place = (text: string, section = 'parts') => entryPlace(text, section);

  it('is the end of the section', () => {
    expect(place('kind: parts\nparts:\n  A:\n    name: a\n')).toEqual({ line: 4, before: [] });
  });

  it('is before the comment that belongs to the next section', () => {
    const text = 'kind: labor\nsteps:\n  a: {hours: 1}\n\n# what we do\noperations:\n  b: {}\n';
    expect(place(text, 'steps')).toEqual({ line: 3, before: [] });
  });

  it('brings the section when there is none yet', () => {
    expect(place('kind: parts\n\n')).toEqual({ line: 1, before: ['', 'parts:'] });
    expect(place('')).toEqual({ line: 0, before: ['parts:'] });
  });

  it('does not take a name deeper down for the section', () => {
    expect(place('kind: parts\nx-old:\n  parts:\n    A: 1\nparts:\n  B: {}\n').line).toBe(6);
  });
});

describe('nextId', () => {
  it('counts on from the highest number', () => {
    expect(nextId(['J-9', 'J-10', 'old'], 'J-1')).toBe('J-11');
    expect(nextId(['J-0099'], 'J-1')).toBe('J-0100');
    expect(nextId([], 'J-1')).toBe('J-1');
  });
});

describe('isPlainId', () => {
  it('takes part numbers and words, and nothing that YAML would read otherwise', () => {
    for (const id of ['TC-B6-R', '0071', '24E7', 'rr-unit', '4L60/E']) expect(isPlainId(id), id).toBe(true);
    for (const id of ['', 'a b', 'a: b', '#1', '-x', '[a]', '"a"', '&a', '*a'])
      expect(isPlainId(id), id).toBe(false);
  });
});
