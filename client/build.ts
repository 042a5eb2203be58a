/** Bundles the extension into dist/: for the desktop and remote machines, for the browser, and the page of the preview. */
import { copyFileSync, cpSync, mkdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { type BuildOptions, build, type Metafile, type Plugin } from 'esbuild';

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

/** What only printing needs, large: a bundle of its own each, which the server loads when it first prints. */
const PAPER = ['render/pdf', 'shrink'] as const;
const PAPER_FILES = /\/(pdf|shrink)\.ts$/;

const loadedWhenPrinting: Plugin = {
  name: 'loaded when printing',
  setup: ({ onResolve }) =>
    onResolve({ filter: PAPER_FILES }, ({ path, kind }) =>
      kind === 'dynamic-import'
        ? { path: `./paper/${PAPER_FILES.exec(path)![1]}.cjs`, external: true }
        : undefined,
    ),
};

/** A page makes pictures smaller by itself, and makes no PDF: the client says so. */
const printingInPage: Plugin = {
  name: 'printing in a page',
  setup: ({ onResolve, onLoad }) => {
    onResolve({ filter: PAPER_FILES }, ({ path, kind }) => {
      if (kind !== 'dynamic-import') return undefined;
      return PAPER_FILES.exec(path)![1] === 'shrink'
        ? { path: at('server/src/print/shrink-page.ts') }
        : { path, namespace: 'nothing' };
    });
    onLoad({ filter: /.*/, namespace: 'nothing' }, () => ({ contents: 'export {}' }));
  },
};

/** The server for a worker of a page. */
export const WORKER: BuildOptions = {
  ...browser,
  format: 'iife',
  entryPoints: ['server/src/worker.ts'],
  outfile: 'dist/web/server.js',
  plugins: [printingInPage],
  // A page has no `Buffer`; these editions bring their own.
  alias: {
    'csv-parse/sync': 'csv-parse/browser/esm/sync',
    'csv-stringify/sync': 'csv-stringify/browser/esm/sync',
  },
};

const BUNDLES: readonly BuildOptions[] = [
  { ...node, entryPoints: ['client/extension.ts'], outfile: 'dist/extension.cjs', external: ['vscode'] },
  {
    ...node,
    entryPoints: ['server/src/main.ts'],
    outfile: 'dist/server.cjs',
    plugins: [loadedWhenPrinting],
  },
  {
    ...node,
    entryPoints: PAPER.map((name) => `server/src/print/${name}.ts`),
    entryNames: '[name]',
    outdir: 'dist/paper',
    outExtension: { '.js': '.cjs' },
  },
  {
    ...browser,
    format: 'cjs',
    entryPoints: ['client/web.ts'],
    outfile: 'dist/web/extension.js',
    external: ['vscode'],
  },
  WORKER,
  {
    ...browser,
    format: 'iife',
    entryPoints: ['client/preview/app/main.ts'],
    outfile: 'dist/preview/preview.js',
  },
];

/** Builds everything; answers with what went into the bundles. */
export async function buildAll(): Promise<Metafile[]> {
  for (const folder of ['dist/web', 'dist/preview', 'dist/paper'])
    rmSync(at(folder), { recursive: true, force: true });
  const built = await Promise.all(BUNDLES.map((options) => build(options)));
  cpSync(at('node_modules/pdfmake/fonts/Roboto'), at('dist/paper/Roboto'), { recursive: true });
  mkdirSync(at('dist/preview'), { recursive: true });
  copyFileSync(at('client/preview/preview.css'), at('dist/preview/preview.css'));
  copyFileSync(at('client/upkeep/report.css'), at('dist/preview/report.css'));
  return built.map((one) => one.metafile!);
}

if (import.meta.main) await buildAll();
