import { describe, expect, it } from 'vitest';
import { parseDateTime } from '../../../schemas/values/dates.ts';
import { type Answer, answerText, holdAnswer, readAnswer } from '../../../server/src/print/answer/answer.ts';
import { recordedAnswer } from '../../../server/src/print/answer/record.ts';
import { answersOf } from '../../../server/src/print/answer/variants.ts';
import { sampleJob, smallBook } from './paper.ts';

const open = sampleJob('J-1076');
const offered = answersOf(open.source);
const overhaul = offered.find(({ option }) => option.id === 'overhaul')!;

/** The same lines, taken out of the file by hand. */
const byHand = sampleJob('J-1076', (text, uri) =>
  uri.includes('J-1076')
    ? text.replaceAll(/^ +- (part: HOS-B6|operation: fit-hoses)\n +optional: yes\n/gm, '')
    : text,
).source.estimate;

const given = async (left: typeof overhaul.extras = []) => {
  const mask = overhaul.extras.reduce((bits, extra, i) => (left.includes(extra) ? bits | (1 << i) : bits), 0);
  const line = await answerText(open.source.estimate, overhaul.variants[mask]!, left);
  return line.replace('{name}', 'Cornelius Abara');
};

describe('what an owner can answer', () => {
  it('is priced by the engine as if the work left out had never been on the job', () => {
    expect(overhaul.extras.map((extra) => [extra.id, extra.lines.length])).toEqual([['HOS-B6', 2]]);
    for (const { option, variants } of offered) {
      const same = byHand.options.find((one) => one.id === option.id)!;
      expect(variants[1]!.priced.total.value.toString()).toBe(same.priced.total.value.toString());
    }
  });
});

describe('an answer', () => {
  it('comes back as it went out, quoted, wrapped and in small letters', async () => {
    const line = await given(overhaul.extras);
    const wrapped = `> ${line.replace(' / by', '\n> / by').replace(/[^/]+$/, (code) => code.toLowerCase())}\n`;
    const answer = readAnswer(wrapped) as Answer;
    expect(answer).toMatchObject({
      job: 'J-1076',
      option: 'overhaul',
      without: ['HOS-B6'],
      by: 'Cornelius Abara',
    });
    expect(await holdAnswer(open.source, answer)).toMatchObject({ left: overhaul.extras });
  });

  it('is not taken with another total', async () => {
    const line = await given();
    const changed = line.replace(/\d+\.\d\d USD/, '5000.00 USD');
    const held = await holdAnswer(open.source, readAnswer(changed) as Answer);
    expect(held).toEqual({
      message: `The answer says 5000 USD, and the estimate comes to ${overhaul.option.priced.total.value} USD. The total was changed after the page was made: ask the owner again with a new page.`,
    });
  });

  it('is not taken once the prices have changed', async () => {
    // The rate is locked in the job itself.
    const later = sampleJob('J-1076', (text) => text.replace('general: 148.00', 'general: 149.00'));
    const held = await holdAnswer(later.source, readAnswer(await given()) as Answer);
    expect(held).toHaveProperty(
      'message',
      expect.stringContaining('The estimate was changed after the page was made'),
    );
  });

  it('is not taken for another job, an option that is not there, or work that is not optional', async () => {
    const line = await given();
    const hold = async (text: string) =>
      (await holdAnswer(open.source, readAnswer(text) as Answer)) as { message: string };
    expect((await hold(line.replace('J-1076', 'J-1042'))).message).toBe(
      'This answer is for job J-1042, and this is job J-1076.',
    );
    expect((await hold(line.replace('overhaul', 'overhaull'))).message).toContain('Did you mean overhaul?');
    expect((await hold(line.replace('/ all /', '/ without TC-B6-R /'))).message).toContain(
      'not something that can be left out',
    );
    expect((await hold(line.replace(/.$/, (one) => (one === '7' ? '8' : '7')))).message).toContain(
      'a letter was misread',
    );
  });

  it('that is none says what is missing', () => {
    expect(readAnswer('yes please do it')).toHaveProperty('message', expect.stringContaining('has 1 parts'));
    expect(readAnswer('J / overhaul / some / 1.00 USD / by A / X')).toHaveProperty(
      'message',
      expect.stringContaining('"some"'),
    );
  });

  it('is recorded in the job: who, when, how, how much, and what was declined', async () => {
    const held = await holdAnswer(open.source, readAnswer(await given(overhaul.extras)) as Answer);
    if ('message' in held) throw new Error(held.message);
    const on = parseDateTime('2026-04-04T09:00');
    if (!on.ok) throw new Error(on.message);
    const recorded = recordedAnswer(open.source, open.file, held, {
      by: 'Cornelius Abara',
      on: on.value,
      how: 'email',
    })!;
    const before = open.file.source.text();
    const after = sampleJob('J-1076', (text) => (text === before ? recorded.text : text)).source.estimate;
    expect(after.chosen?.id).toBe('overhaul');
    expect(after.chosen?.priced.total.value.toString()).toBe(held.option.priced.total.value.toString());
    expect(after.job.authorizations?.at(-1)).toMatchObject({
      by: 'Cornelius Abara',
      how: 'email',
      for: 'work',
      option: 'overhaul',
      declined: ['radiator-hoses'],
    });
    expect(after.job.authorizations?.at(-1)?.amount.toString()).toBe(
      held.option.priced.subtotal.value.toString(),
    );
    // Comments of the writer are still there.
    for (const comment of before.match(/#.*$/gm) ?? []) expect(recorded.text).toContain(comment);
    expect(after.problems.filter((one) => one.severity === 'error')).toEqual([]);
  });
});

it('asks the engine no more often than two to the fifth, however much is optional', () => {
  const lines = Array.from(
    { length: 9 },
    (_, i) => `  - { other: Extra ${i}, category: parts, price: 10.00, optional: yes }`,
  ).join('\n');
  const { source } = smallBook(
    {
      'shop.yaml': 'kind: shop\nname: S\n',
      'J.job.yaml': `kind: job\nid: J\nopened: 2026-01-01\nunit: u\nlines:\n${lines}\n`,
    },
    'J',
  );
  const [only] = answersOf(source);
  expect(only?.variants).toHaveLength(32);
  expect(only?.variants.at(-1)?.priced.total.value.toString()).toBe('0');
});
