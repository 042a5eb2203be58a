import { defineConfig } from 'vitest/config';
import editor from './editor/vitest.config.ts';

/**
 * The real editor is some 600 MB and five minutes: it is tried where every change is checked (`CI`), and with
 * `npm run test:editor`.
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
      ...(process.env.CI ? [editor] : []),
    ],
  },
});
