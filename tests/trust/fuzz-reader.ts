/**
 * Differential fuzz of the reader by hand, for as long as one likes: `node tests/trust/fuzz-reader.ts COUNT SEED`.
 * The fast reader gives the nodes of the full one, or leaves a text alone.
 */
import { isDeepStrictEqual } from 'node:util';
import fc from 'fast-check';
import { readFast } from '../../server/src/syntax/fast.ts';
import { readFull } from '../../server/src/syntax/full.ts';
import { pieceText } from '../property/syntax-texts.ts';

const [count = 100_000, seed = 1] = process.argv.slice(2).map(Number);
let taken = 0;
fc.assert(
  fc.property(pieceText, (text) => {
    const fast = readFast(text);
    if (!fast) return true;
    taken++;
    return isDeepStrictEqual({ node: fast, problems: [] }, readFull(text));
  }),
  { numRuns: count, seed },
);
process.stdout.write(`seed ${seed}: ${count} texts, ${taken} read fast, none different\n`);
