import { expect, it } from 'vitest';
import { readme, withOutput } from './readme-output.ts';

it('shows in the README what the program prints', () => {
  const text = readme();
  expect(withOutput(text)).toBe(text);
  expect(text).toContain('Radiator');
});
