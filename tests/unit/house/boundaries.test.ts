import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { expect, test } from 'vitest';

/** What the estimate is made from, and all that is made from the estimate may use as well. */
const BELOW_ESTIMATE = [
  'schemas',
  'server/src/syntax',
  'server/src/book',
  'server/src/pricing',
  'server/src/work',
];

/**
 * Who may import whom. A layer may use itself, the layers named here, and these packages. What is not named is not
 * allowed: a new package or a new direction is a decision, taken here.
 */
const LAYERS: Readonly<
  Record<string, { readonly layers: readonly string[]; readonly packages: readonly string[] }>
> = {
  schemas: { layers: [], packages: ['zod', 'big.js', 'temporal-polyfill', 'fastest-levenshtein'] },
  'server/src/syntax': { layers: [], packages: ['yaml'] },
  'server/src/book': { layers: ['schemas', 'server/src/syntax'], packages: ['zod', 'csv-parse'] },
  'server/src/pricing': { layers: ['schemas'], packages: [] },
  'server/src/work': { layers: ['schemas'], packages: [] },
  'server/src/estimate': {
    layers: BELOW_ESTIMATE,
    packages: [],
  },
  'server/src/print': {
    layers: [...BELOW_ESTIMATE, 'server/src/estimate'],
    packages: ['csv-stringify', 'html-escaper', 'image-size', 'jimp', 'pdfmake'],
  },
  'server/src/upkeep': {
    layers: [...BELOW_ESTIMATE, 'server/src/estimate'],
    packages: ['zod', 'csv-parse', 'csv-stringify'],
  },
  'server/src/features': {
    layers: [...BELOW_ESTIMATE, 'server/src/estimate', 'server/src/print', 'server/src/upkeep'],
    // The protocol's types and their constants, not its connection.
    packages: ['zod', 'vscode-languageserver-types'],
  },
};

/** The edges may use any layer; nothing uses them. */
const EDGES = [
  'server/src/lsp',
  'server/src/cli',
  'server/src/lsp.ts',
  'server/src/cli.ts',
  'server/src/main.ts',
  'server/src/library',
  'server/src/library.ts',
  'server/src/worker.ts',
];

/** Files that may do what their layer may not, and why. */
const EXCEPTIONS: Readonly<Record<string, readonly string[]>> = {
  // The only file of the book that touches a file system.
  'server/src/book/disk.ts': ['node:fs', 'node:path', 'node:url'],
  // A program of its own, that writes files.
  'schemas/generate.ts': ['node:fs', 'node:path'],
};

interface Import {
  readonly from: string;
  readonly typeOnly: boolean;
}

function importsIn(source: string): Import[] {
  const code = source.replace(/\/\*[\s\S]*?\*\/|^\s*\/\/.*$/gm, '');
  const named = /^\s*(?:import|export)\b(\s+type\b)?(?:[^;'"`()]*?\bfrom)?\s*['"]([^'"\n]+)['"]/gm;
  const called = /\b(?:import|require)\(\s*['"]([^'"\n]+)['"]/g;
  return [
    ...[...code.matchAll(named)].map(([, type, from]) => ({ from: from!, typeOnly: type !== undefined })),
    ...[...code.matchAll(called)].map(([, from]) => ({ from: from!, typeOnly: false })),
  ];
}

function layerOf(path: string): string | undefined {
  return [...Object.keys(LAYERS), ...EDGES, 'client'].find(
    (layer) => path === layer || path.startsWith(`${layer}/`),
  );
}

/** `file -> import` of every import that is not allowed. */
function violations(files: ReadonlyMap<string, string>): string[] {
  return [...files].flatMap(([path, source]) =>
    importsIn(source)
      .filter((one) => !allowed(path, one))
      .map(({ from }) => `${path} -> ${from}`),
  );
}

function allowed(path: string, { from, typeOnly }: Import): boolean {
  if (EXCEPTIONS[path]?.includes(from)) return true;
  const layer = layerOf(path);
  const target = from.startsWith('.') ? layerOf(join(dirname(path), from)) : undefined;
  if (layer === undefined) return false;
  if (layer === 'client') {
    // The client talks to the server over the protocol; of the server it knows the shapes of what is sent.
    return !from.startsWith('.') || target === layer || typeOnly || target === 'schemas';
  }
  if (EDGES.includes(layer)) return target !== 'client';
  const { layers, packages } = LAYERS[layer]!;
  return from.startsWith('.')
    ? target !== undefined && (target === layer || layers.includes(target))
    : packages.some((name) => from === name || from.startsWith(`${name}/`));
}

function* sources(folder: string): Generator<string> {
  for (const entry of readdirSync(folder, { withFileTypes: true })) {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) yield* sources(path);
    else if (path.endsWith('.ts')) yield path;
  }
}

test('imports run one way', () => {
  const files = new Map(
    ['schemas', 'server/src', 'client'].flatMap((root) =>
      [...sources(root)].map((path) => [path, readFileSync(path, 'utf8')] as const),
    ),
  );
  expect(files.size).toBeGreaterThan(100);
  expect(violations(files)).toEqual([]);
});

test.each([
  ['schemas/walk.ts', "import { x } from '../server/src/book/judge.ts';"],
  ['server/src/syntax/node.ts', "import type { FieldMeta } from '../../../schemas/declare.ts';"],
  ['server/src/book/judge.ts', "import { price } from '../pricing/price.ts';"],
  ['server/src/book/judge.ts', "import { readFileSync } from 'node:fs';"],
  ['server/src/book/judge.ts', "const fs = await import('node:fs');"],
  ['server/src/pricing/price.ts', "import { check } from '../work/check.ts';"],
  ['server/src/pricing/price.ts', "import { parse } from 'yaml';"],
  ['server/src/work/check.ts', "export { price } from '../pricing/price.ts';"],
  ['server/src/estimate/estimate.ts', "import {\n  a,\n  b,\n} from '../features/hover.ts';"],
  ['server/src/features/hover.ts', "import { Connection } from 'vscode-languageserver';"],
  ['server/src/features/hover.ts', "import 'node:path';"],
  ['server/src/features/hover.ts', "import { lsp } from '../lsp.ts';"],
  ['server/src/lsp/server.ts', "import { activate } from '../../../client/extension.ts';"],
  ['server/src/elsewhere/x.ts', "import { z } from 'zod';"],
  ['client/extension.ts', "import { Book } from '../server/src/book/book.ts';"],
])('a forbidden import is found: %s: %s', (path, source) => {
  expect(violations(new Map([[path, source]]))).toHaveLength(1);
});

test('what is allowed, and what only looks like an import', () => {
  const source = [
    "import type { A } from './a.ts';",
    "import { z } from 'zod';",
    "export * from '../syntax/node.ts';",
    "// import { fs } from 'node:fs';",
    "/** from 'node:fs' */",
    "const text = `import 'node:fs'`;",
  ].join('\n');
  expect(violations(new Map([['server/src/book/judge.ts', source]]))).toEqual([]);
  const client =
    "import type { View } from '../server/src/features/client/view.ts';\nimport { window } from 'vscode';";
  expect(violations(new Map([['client/extension.ts', client]]))).toEqual([]);
});
