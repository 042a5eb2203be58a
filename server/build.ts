/**
 * Builds the library into dist/library: JavaScript for Node 20, and the types of its face alone. Packages that it uses
 * stay outside: whoever installs it has them.
 */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { build } from 'esbuild';

const ROOT = join(import.meta.dirname, '..');
const OUT = join(ROOT, 'dist/library');
const FACE = 'server/src/library.ts';
const RELATIVE = /(?:from|import\() ?['"](\.[^'"]+)['"]/g;

rmSync(OUT, { recursive: true, force: true });
await build({
  absWorkingDir: ROOT,
  entryPoints: { gearquill: FACE },
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
