/**
 * Builds what is used outside an editor into dist/node: the library with the types of its face, the command line, the
 * language server. JavaScript for Node 20. Packages that they use stay outside: whoever installs this has them.
 */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { build, type Plugin } from 'esbuild';

const ROOT = join(import.meta.dirname, '..');
const OUT = join(ROOT, 'dist/node');
const FACE = 'server/src/library.ts';
const RELATIVE = /(?:from|import\() ?['"](\.[^'"]+)['"]/g;

/** A thread is started by the name of its file, which is another one here. */
const helpersAsBuilt: Plugin = {
  name: 'helpers as built',
  setup: ({ onLoad }) =>
    onLoad({ filter: /check-all\.ts$/ }, ({ path }) => ({
      contents: readFileSync(path, 'utf8').replace('./check-helper.ts', './check-helper.js'),
      loader: 'ts',
    })),
};

rmSync(OUT, { recursive: true, force: true });
await build({
  absWorkingDir: ROOT,
  entryPoints: {
    gearquill: FACE,
    cli: 'server/src/cli.ts',
    server: 'server/src/main.ts',
    'check-helper': 'server/src/cli/check-helper.ts',
  },
  plugins: [helpersAsBuilt],
  outdir: OUT,
  bundle: true,
  splitting: true,
  format: 'esm',
  platform: 'node',
  target: 'node20',
  packages: 'external',
  logLevel: 'warning',
});
types();

/** The declarations of every file that the face uses, of which only those are kept that it shows. */
function types(): void {
  const all = mkdtempSync(join(tmpdir(), 'gearquill-types-'));
  const config = {
    extends: join(ROOT, 'tsconfig.json'),
    compilerOptions: {
      noEmit: false,
      declaration: true,
      emitDeclarationOnly: true,
      rootDir: ROOT,
      outDir: all,
      typeRoots: [join(ROOT, 'node_modules/@types')],
    },
    files: [join(ROOT, FACE)],
    include: [],
  };
  writeFileSync(join(all, 'tsconfig.json'), JSON.stringify(config));
  const tsc = join(ROOT, 'node_modules/typescript/bin/tsc');
  const { status, stdout } = spawnSync(process.execPath, [tsc, '--project', all], { encoding: 'utf8' });
  if (status !== 0) throw new Error(stdout);
  const kept = new Set<string>();
  const left = [FACE];
  for (let path = left.pop(); path !== undefined; path = left.pop()) {
    if (kept.has(path)) continue;
    kept.add(path);
    const declared = path.replace(/\.ts$/, '.d.ts');
    const text = readFileSync(join(all, declared), 'utf8');
    for (const [, from = ''] of text.matchAll(RELATIVE)) left.push(join(dirname(path), from));
    mkdirSync(join(OUT, 'types', dirname(path)), { recursive: true });
    writeFileSync(
      join(OUT, 'types', declared),
      text.replaceAll(RELATIVE, (whole) => whole.replace(/\.ts(?=['"])/, '.js')),
    );
  }
  rmSync(all, { recursive: true });
}
