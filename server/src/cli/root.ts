/** The folder of the package: the same from its sources and from what is built of them. */
import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';

export const ROOT = packageAround(import.meta.dirname);

function packageAround(folder: string): string {
  return existsSync(join(folder, 'package.json')) ? folder : packageAround(dirname(folder));
}
