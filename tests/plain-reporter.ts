/** Ends a run with one plain line: `N passed, N failed, N skipped`. */
import type { Reporter, TestModule } from 'vitest/node';

export default class PlainReporter implements Reporter {
  onTestRunEnd(modules: readonly TestModule[], errors: readonly unknown[]): void {
    const counts = { passed: 0, failed: errors.length, skipped: 0 };
    for (const module of modules) {
      if (module.state() === 'failed' && [...module.children.allTests()].length === 0) counts.failed++;
      for (const test of module.children.allTests()) {
        const { state } = test.result();
        if (state === 'passed' || state === 'failed' || state === 'skipped') counts[state]++;
      }
    }
    // After the default reporter's summary, so that this line is the last.
    process.once('exit', () =>
      console.log(`\n${counts.passed} passed, ${counts.failed} failed, ${counts.skipped} skipped`),
    );
  }
}
