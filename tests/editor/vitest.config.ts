import { defineConfig } from 'vitest/config';

/** One editor at a time, and time enough for a slow machine. */
export default defineConfig({
  test: {
    name: 'editor',
    include: ['tests/editor/**/*.test.ts'],
    globalSetup: ['tests/editor/set-up.ts'],
    fileParallelism: false,
    // After everything else: a machine that does two things at once shows them late.
    sequence: { groupOrder: 1 },
    testTimeout: 300_000,
    hookTimeout: 300_000,
    reporters: ['default'],
  },
});
