import { describe, expect, test } from 'vitest';
import type { z } from 'zod';
import {
  choice,
  count,
  hours,
  id,
  number,
  percent,
  prose,
  reading,
  text,
  vin,
  year,
  yesNo,
} from '../../../schemas/scalars.ts';

/** The value as text, or the message. */
const read = (schema: z.ZodType, typed: string): string => {
  const judged = schema.safeParse(typed);
  return judged.success ? String(judged.data) : judged.error.issues[0]!.message;
};

describe('each reads the text as typed, and says what it wants', () => {
  test.each<[string, z.ZodType, string, string]>([
    ['an id', id(), '0071', '0071'],
    ['an id', id(), 'TC B6/2', 'TC B6/2'],
    ['an id', id(), ' ', 'An id cannot be empty.'],
    ['an id', id(), 'a ', 'An id cannot begin or end with a space.'],
    ['an id', id(), 'a\nb', 'An id cannot hold a line break or a control character.'],
    ['an id', id(), 'x'.repeat(80), 'x'.repeat(80)],
    ['an id', id(), 'x'.repeat(81), 'An id can be at most 80 characters long.'],
    ['an id', id(), 'toString', '"toString" is a word that programs keep for themselves; choose another id.'],
    ['text', text(), 'on', 'on'],
    ['text', text(), ' ', 'Write some text here, or leave the field out.'],
    ['prose', prose(), '', 'Write some text here, or leave the field out.'],
    ['a reading', reading(), '', 'Write what was found.'],
    ['a VIN', vin(), '', 'Write the VIN here, or leave the field out.'],
    ['a percent', percent(), '6.5%', '0.065'],
    ['a number', number(), '1,234.5', '1234.5'],
    ['a number', number(), '-2', '-2'],
    ['a number with a floor', number('0'), '-2', 'This cannot be less than 0.'],
    ['a number with a floor', number('0'), '0', '0'],
    ['a count', count(), '12', '12'],
    ['a count', count(), '012', '12'],
    ['a count', count(), '1.5', 'Write a whole number here, such as 12.'],
    ['a count', count(), '-1', 'Write a whole number here, such as 12.'],
    ['a count', count(), '1e3', 'Write a whole number here, such as 12.'],
    ['hours', hours(), '3.9', '3.9'],
    ['hours', hours(), '3.9 h', '3.9'],
    ['hours', hours(), '45 min', '0.75'],
    ['hours', hours(), '1:30', 'Write hours as 3.9, 3.9 h or 45 min.'],
    ['hours', hours(), '-1', 'Write hours as 3.9, 3.9 h or 45 min.'],
    ['hours', hours(), '-1 h', 'Hours cannot be less than zero.'],
    ['yes or no', yesNo(), 'Yes', 'true'],
    ['yes or no', yesNo(), 'false', 'false'],
    ['yes or no', yesNo(), 'on', 'Write yes or no.'],
    ['a year', year(), '2019', '2019'],
    ['a year', year(), '19', 'Write the year with four digits, such as 2019.'],
    ['a choice', choice({ new: 'New.', used: 'Used.' }), 'new', 'new'],
    [
      'a choice',
      choice({ new: 'New.', used: 'Used.' }),
      'nwe',
      '"nwe" is not one of the words for this. Did you mean "new"?',
    ],
    [
      'a choice',
      choice({ new: 'New.', used: 'Used.' }),
      'toString',
      '"toString" is not one of the words for this. Write one of: new, used.',
    ],
  ])('%s: %#', (_what, schema, typed, expected) => {
    expect(read(schema, typed)).toBe(expected);
  });
});
