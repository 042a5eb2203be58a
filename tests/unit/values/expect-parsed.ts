import { expect } from 'vitest';
import type { Parsed } from '../../../schemas/values/parsed.ts';

/** The value of a text that must be accepted. */
export function valueIn<T>(parsed: Parsed<T>): T {
  if (!parsed.ok) expect.fail(`refused: ${parsed.message}`);
  return parsed.value;
}

/** The message of a text that must be refused. */
export function messageIn(parsed: Parsed<unknown>): string {
  if (parsed.ok) expect.fail(`accepted: ${JSON.stringify(parsed.value)}`);
  return parsed.message;
}
