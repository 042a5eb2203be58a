#!/usr/bin/env node
/** The command line: the same book, estimates and problems as in the editor. */
import { UsageError } from './cli/open.ts';
import { program } from './cli/program.ts';

try {
  await program.parseAsync();
} catch (error) {
  if (!(error instanceof UsageError)) throw error;
  process.stderr.write(`${error.message}\n`);
  process.exitCode = 2;
}
