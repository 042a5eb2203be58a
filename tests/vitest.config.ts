import { defineConfig } from 'vitest/config';
import editor from './editor/vitest.config.ts';

/**
 * The real editor is some 600 MB and five minutes or more: it is tried with `npm run test:editor`, or within this run
 * where GEARQUILL_EDITOR is set.
 */
export default defineConfig({
  test: {
    reporters: ['default', './tests/plain-reporter.ts'],
    projects: [
      {
        test: {
          name: 'house',
          include: ['tests/**/*.test.ts'],
          exclude: ['tests/editor/**', '**/node_modules/**'],
          testTimeout: 60_000,
          maxWorkers: 2,
          sequence: { groupOrder: 0 },
        },
      },
      ...(process.env.GEARQUILL_EDITOR ? [editor] : []),
    ],
  },
});
