import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { findJob, openBook } from '../../../server/src/cli/open.ts';
import { caseResults } from '../../../server/src/cli/test.ts';
import { REQUESTS } from '../../../server/src/features/client/requests.ts';

const STARTER = join(import.meta.dirname, '../../../client/starter');

describe('the small shop book of the walkthrough', () => {
  it('is written whole: the command names each of its files', () => {
    const files = readdirSync(STARTER, { recursive: true, encoding: 'utf8' })
      .filter((path) => statSync(join(STARTER, path)).isFile())
      .map((path) => path.replaceAll('\\', '/'));
    const command = readFileSync(join(STARTER, '../start-book.ts'), 'utf8');
    const named = /FILES = \[([^\]]*)\]/.exec(command)![1]!.match(/(?<=')[\w./-]+(?=')/g);
    expect(named!.sort()).toEqual(files.sort());
  });

  it('says of each file that it is made up', () => {
    for (const { book } of openBook(STARTER).books)
      for (const file of book.files()) expect(file.value.demo, file.uri).toBe(true);
  });

  it('lacks only what its first job is there to show', () => {
    const { books } = openBook(STARTER);
    const { problems } = REQUESTS['gearquill/check'](
      books.map((one) => one.estimates),
      {},
    )!;
    const loud = problems.filter((one) => one.severity === 'error' || one.severity === 'warning');
    expect(loud.map((one) => [one.code, one.message.split('.')[0]])).toEqual([
      ['missing-work', 'Cooler flush is required and missing'],
      ['missing-work', 'Cooler flow test is required and missing'],
    ]);
  });

  it('prices both options, with a price for everything', () => {
    const { file, estimates } = findJob('J-1', STARTER);
    const view = REQUESTS['gearquill/estimate']([estimates], { uri: file.uri })!;
    expect(view.options.map((one) => [one.name, one.complete])).toEqual([
      ['Overhaul your unit', true],
      ['Fit an exchange unit', true],
    ]);
  });

  it('passes its own cases', () => {
    const results = caseResults(openBook(STARTER));
    expect(results.flatMap((one) => one.mismatches)).toEqual([]);
    expect(results.length).toBe(2);
  });
});
