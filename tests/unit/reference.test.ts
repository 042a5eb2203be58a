/** The written reference: fresh, complete, and every link leads somewhere. */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it, test } from 'vitest';
import { KINDS } from '../../schemas/index.ts';
import { alternativesOf, fieldsOf, isList, isObject, isRecord } from '../../schemas/walk.ts';
import { program } from '../../server/src/cli/program.ts';
import { anchorOf } from '../../server/src/cli/reference/markdown.ts';
import { referencePages } from '../../server/src/cli/reference/pages.ts';
import { pages as codePages } from '../../server/src/estimate/codes.ts';

const json = (path: string) => JSON.parse(readFileSync(path, 'utf8'));
const manifest = json('package.json');
const pages = referencePages(manifest, json('client/package.nls.json'));

test('the pages are those of the declarations as they are now', () => {
  expect(readdirSync('schemas/reference').sort()).toEqual([...pages.keys()].sort());
  // `npm run schemas` writes them.
  for (const [name, text] of pages)
    expect(readFileSync(`schemas/reference/${name}`, 'utf8'), name).toBe(text);
});

describe('what is on them', () => {
  it('every field of a file, and of what is in it', () => {
    const told = new Set(
      [...pages.values()].flatMap((text) => [...text.matchAll(/^\| `([^`]+)` \|/gm)].map(([, key]) => key)),
    );
    for (const kind of KINDS) {
      const text = pages.get(`${kind.kind}.md`)!;
      for (const field of fieldsOf(kind.schema).values()) {
        expect(text, `${kind.kind} ${field.key}`).toContain(`| \`${field.key}\` |`);
        const entry = alternativesOf(field.schema).flatMap((one) =>
          isRecord(one)
            ? alternativesOf(one.valueType as never)
            : isList(one)
              ? alternativesOf(one.element as never)
              : [one],
        );
        for (const object of entry.filter(isObject))
          for (const inner of fieldsOf(object).values())
            expect(told.has(inner.key), `${field.key} ${inner.key}`).toBe(true);
      }
    }
  });

  it('every code, command, key and setting', () => {
    for (const { code } of codePages()) expect(pages.get('codes.md')).toContain(`\n## ${code}\n`);
    for (const command of program.commands) {
      expect(pages.get('commands.md')).toContain(`\n## ${command.name()}\n`);
      for (const option of command.options) expect(pages.get('commands.md')).toContain(`\`${option.flags}\``);
    }
    const editor = pages.get('editor.md')!;
    for (const { command } of manifest.contributes.commands) expect(editor).toContain(`\`${command}\``);
    for (const { key } of manifest.contributes.keybindings.filter((one: { command: string }) =>
      manifest.contributes.commands.some((other: { command: string }) => other.command === one.command),
    ))
      expect(editor).toContain(`\`${key}\``);
    for (const name of Object.keys(manifest.contributes.configuration.properties))
      expect(editor).toContain(`\`${name}\``);
    expect([...pages.values()].join('')).not.toMatch(/%[\w.]+%|undefined|\[object/);
  });
});

test('every link leads to a page and a heading that are there', () => {
  for (const [name, text] of pages) {
    for (const [, target = ''] of text.matchAll(/\]\(([^)]+)\)/g)) {
      if (target === '../json') continue;
      const [file, anchor] = target.split('#');
      const page = pages.get(file === '' ? name : file!);
      expect(page, `${name}: ${target}`).toBeDefined();
      if (anchor === undefined) continue;
      const anchors = [...page!.matchAll(/^#+ (.+)$/gm)].map(([, heading]) => anchorOf(heading!));
      expect(anchors, `${name}: ${target}`).toContain(anchor);
    }
  }
});
