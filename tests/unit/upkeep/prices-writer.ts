/** Writes two versions of some files in turn until it is killed: `node prices-writer.ts FOLDER NAMES`. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { replaceFiles } from '../../../server/src/cli/write-files.ts';

const [folder = '', names = ''] = process.argv.slice(2);
const paths = names.split(',').map((name) => join(folder, name));
const versions = ['old', 'new'].map(
  (version) => new Map(paths.map((path) => [path, readFileSync(`${path}.${version}`, 'utf8')])),
);
process.stdout.write('ready');
for (let i = 1; ; i++) replaceFiles(versions[i % 2]!);
