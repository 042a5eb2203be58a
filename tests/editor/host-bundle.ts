/** The suite of host/ as the one module that an extension host loads. */
import { join } from 'node:path';
import { build } from 'esbuild';

export async function buildHostTests(): Promise<string> {
  const outfile = join(import.meta.dirname, '../../dist/tests/host.cjs');
  await build({
    entryPoints: [join(import.meta.dirname, 'host/index.ts')],
    outfile,
    bundle: true,
    platform: 'node',
    format: 'cjs',
    target: 'node20',
    external: ['vscode'],
    logLevel: 'warning',
  });
  return outfile;
}
