/** Packages the extension: lays out what goes into it in dist/vscode, and makes the VSIX beside it. */
import { cpSync, existsSync, mkdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { createVSIX, listFiles } from '@vscode/vsce';
import type { Metafile } from 'esbuild';
import { buildAll } from './build.ts';

const ROOT = join(import.meta.dirname, '..');
const STAGE = join(ROOT, 'dist/vscode');
/** The sample book and its tests, sources and lock files stay out. */
const PACKED = [
  'LICENSE',
  'CHANGELOG.md',
  'client/icons',
  'client/l10n',
  'client/language',
  'client/starter',
  'client/walkthrough',
  'dist/extension.cjs',
  'dist/server.cjs',
  'dist/web',
  'dist/preview',
  'dist/paper',
];
/** What a reader of the package needs of the manifest; the rest is for those who build it. */
const NOT_PACKED = [
  'type',
  'scripts',
  'devDependencies',
  'dependencies',
  'allowScripts',
  'private',
  'exports',
  'bin',
  'files',
];

/** A folder that an editor can load as an extension. */
export async function stage(): Promise<string> {
  const metafiles = await buildAll();
  rmSync(STAGE, { recursive: true, force: true });
  mkdirSync(STAGE, { recursive: true });
  for (const path of PACKED) {
    if (existsSync(join(ROOT, path))) cpSync(join(ROOT, path), join(STAGE, path), { recursive: true });
  }
  const manifest = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8')) as Record<string, unknown>;
  for (const key of NOT_PACKED) delete manifest[key];
  manifest.engines = { vscode: (manifest.engines as { vscode: string }).vscode };
  writeFileSync(join(STAGE, 'package.json'), `${JSON.stringify(manifest, null, 2)}\n`);
  // The editor looks for the manifest's strings beside it.
  cpSync(join(ROOT, 'client/package.nls.json'), join(STAGE, 'package.nls.json'));
  writeFileSync(join(STAGE, 'README.md'), withoutPlaces(readFileSync(join(ROOT, 'README.md'), 'utf8')));
  writeFileSync(join(STAGE, 'NOTICES.txt'), notices(metafiles));
  return STAGE;
}

/** Stages and packs; answers with the VSIX. */
export async function pack(): Promise<string> {
  const cwd = await stage();
  const { name, version } = JSON.parse(readFileSync(join(cwd, 'package.json'), 'utf8')) as {
    name: string;
    version: string;
  };
  const packagePath = join(ROOT, `dist/${name}-${version}.vsix`);
  await createVSIX({
    cwd,
    packagePath,
    dependencies: false,
    allowMissingRepository: true,
    rewriteRelativeLinks: false,
  });
  return packagePath;
}

/** The README without pictures and links to files that are not in the package. */
function withoutPlaces(readme: string): string {
  return readme
    .replace(/^!\[[^\]]*\]\((?!https:)[^)]*\)\n*/gm, '')
    .replace(/(?<!!)\[([^\]]*)\]\((?!https:|#)[^)]*\)/g, '$1');
}

/** Licenses of the libraries inside the bundles, as they ask to be passed on. */
function notices(metafiles: readonly Metafile[]): string {
  const packages = new Set<string>();
  for (const { outputs } of metafiles) {
    for (const { inputs } of Object.values(outputs)) {
      for (const input of Object.keys(inputs)) {
        const match = /^(?:.*\/)?node_modules\/((?:@[^/]+\/)?[^/]+)\//.exec(input);
        if (match) packages.add(match[1]!);
      }
    }
  }
  const texts = [...packages].sort().map((name) => {
    const folder = join(ROOT, 'node_modules', name);
    const { version, license } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8')) as Record<
      string,
      string
    >;
    const file = ['LICENSE', 'LICENSE.md', 'LICENSE.txt', 'License.txt', 'LICENCE', 'license']
      .map((one) => join(folder, one))
      .find((one) => existsSync(one));
    return `${name} ${version} (${license})\n\n${file ? readFileSync(file, 'utf8').trim() : ''}`;
  });
  return `Gearquill holds these libraries:\n\n${texts.join(`\n\n${'-'.repeat(72)}\n\n`)}\n`;
}

if (import.meta.main) {
  const packed = await pack();
  const files = await listFiles({ cwd: STAGE, packageManager: 0 });
  process.stdout.write(`${packed}: ${(statSync(packed).size / 1024).toFixed(0)} KB, ${files.length} files\n`);
}
