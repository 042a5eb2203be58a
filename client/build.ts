/** Bundles the extension into dist/: for the desktop and remote machines, for the browser, and the page of the preview. */
import { copyFileSync, mkdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { type BuildOptions, build, type Metafile } from 'esbuild';

const ROOT = join(import.meta.dirname, '..');
const at = (path: string) => join(ROOT, path);

const shared: BuildOptions = {
  absWorkingDir: ROOT,
  bundle: true,
  minify: true,
  sourcemap: false,
  legalComments: 'none',
  metafile: true,
  logLevel: 'warning',
  treeShaking: true,
};

/** The oldest editor that the manifest allows runs Node 20. */
const node: BuildOptions = {
  ...shared,
  platform: 'node',
  format: 'cjs',
  target: 'node20',
  mainFields: ['module', 'main'],
};
const browser: BuildOptions = {
  ...shared,
  platform: 'browser',
  target: 'es2022',
  mainFields: ['browser', 'module', 'main'],
};

const BUNDLES: readonly BuildOptions[] = [
  { ...node, entryPoints: ['client/extension.ts'], outfile: 'dist/extension.cjs', external: ['vscode'] },
  { ...node, entryPoints: ['server/src/main.ts'], outfile: 'dist/server.cjs' },
  {
    ...browser,
    format: 'cjs',
    entryPoints: ['client/web.ts'],
    outfile: 'dist/web/extension.js',
    external: ['vscode'],
  },
  { ...browser, format: 'iife', entryPoints: ['server/src/worker.ts'], outfile: 'dist/web/server.js' },
  {
    ...browser,
    format: 'iife',
    entryPoints: ['client/preview/app/main.ts'],
    outfile: 'dist/preview/preview.js',
  },
];

/** Builds everything; answers with what went into the bundles. */
export async function buildAll(): Promise<Metafile[]> {
  for (const folder of ['dist/web', 'dist/preview']) rmSync(at(folder), { recursive: true, force: true });
  const built = await Promise.all(BUNDLES.map((options) => build(options)));
  mkdirSync(at('dist/preview'), { recursive: true });
  copyFileSync(at('client/preview/preview.css'), at('dist/preview/preview.css'));
  return built.map((one) => one.metafile!);
}

if (import.meta.main) await buildAll();
