import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    // The real editor has a run of its own: npm run test:editor.
    exclude: ['tests/editor/**', '**/node_modules/**'],
    reporters: ['default', './tests/plain-reporter.ts'],
    testTimeout: 60_000,
    maxWorkers: 2,
  },
});
