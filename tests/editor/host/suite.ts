/** The least that tests inside the editor's extension host need: names, checks, waiting, and what came out as JSON. */
import { writeFileSync } from 'node:fs';

export interface HostResult {
  readonly name: string;
  /** Undefined when it held. */
  readonly error?: string;
  readonly took: number;
}

const tests: { name: string; run: () => Promise<void> }[] = [];

export function test(name: string, run: () => Promise<void>): void {
  tests.push({ name, run });
}

/** Runs all, one after the other, and writes what came out where the environment says. Throws when one failed. */
export async function runAll(): Promise<void> {
  const file = process.env.GEARQUILL_TEST_RESULTS;
  const results: HostResult[] = [];
  for (const { name, run } of tests) {
    const began = Date.now();
    let error: string | undefined;
    try {
      await run();
    } catch (caught) {
      error = caught instanceof Error ? (caught.stack ?? caught.message) : String(caught);
    }
    results.push({ name, ...(error === undefined ? {} : { error }), took: Date.now() - began });
    console.log(
      `${error === undefined ? 'passed' : 'FAILED'} ${name}${error === undefined ? '' : `\n${error}`}`,
    );
  }
  if (file) writeFileSync(file, JSON.stringify(results));
  const failed = results.filter((one) => one.error !== undefined);
  if (failed.length > 0) throw new Error(`${failed.length} of ${results.length} failed`);
}

/** Asks again until the answer is there; what it throws last is thrown when the time is over. */
export async function eventually<T>(
  ask: () => T | Promise<T>,
  within = 30_000,
): Promise<Exclude<T, false | null | undefined>> {
  const end = Date.now() + within;
  for (;;) {
    try {
      const answer = await ask();
      if (answer !== undefined && answer !== null && answer !== false)
        return answer as Exclude<T, false | null | undefined>;
      if (Date.now() > end) throw new Error('This did not come about in time.');
    } catch (error) {
      if (Date.now() > end) throw error;
    }
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
}
