import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    reporters: ['default', './tests/plain-reporter.ts'],
    testTimeout: 60_000,
    maxWorkers: 2,
  },
});
