/** Sheets printed and answers recorded from the editor, on the demonstration book. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { TextDocumentEdit } from 'vscode-languageserver/node';
import { TextDocument } from 'vscode-languageserver-textdocument';
import type { AnswerHeld } from '../../server/src/features/paper/answer.ts';
import type { PapersView, Printed } from '../../server/src/features/paper/print.ts';
import type { AnswerGiven } from '../../server/src/lsp/paper.ts';
import { Client } from './client.ts';

const BOOK = join(import.meta.dirname, '../../samples/quarrow-creek');
const JOB = 'jobs/J-1076.job.yaml';
const GIVEN = { by: 'Cornelius Abara', how: 'email', contact: 'c.abara@post.example' } as const;

const texts = Object.fromEntries(
  readdirSync(BOOK, { recursive: true, encoding: 'utf8' })
    .filter((path) => path.endsWith('.yaml'))
    .map((path) => [path, readFileSync(join(BOOK, path), 'utf8')]),
);

let client: Client;
beforeAll(async () => {
  client = await Client.start(texts);
});
afterAll(() => client.stop());

const print = (sheet: string, format: string, more: object = {}) =>
  client.ask<Printed>('gearquill/print', { uri: client.uri(JOB), sheet, format, ...more });
const answer = <A>(text: string, given?: object) =>
  client.ask<A>('gearquill/answer', { uri: client.uri(JOB), text, given });
const textOf = ({ content }: Printed) => ('text' in content ? content.text : '');

async function lineOf(option: string, left: string): Promise<string> {
  const page = textOf(await print('customer', 'text'));
  const line = page.split('\n').find((one) => one.includes(`J-1076 / ${option} / ${left}`));
  return line!.trim().replace('______', 'Cornelius Abara');
}

describe('printing', () => {
  it('says which sheets there are, in which forms, of which options', async () => {
    const papers = await client.ask<PapersView>('gearquill/papers', { uri: client.uri(JOB) });
    expect(papers.sheets.map(({ sheet }) => sheet)).toEqual([
      'customer',
      'invoice',
      'talk',
      'bench',
      'order',
      'inside',
    ]);
    expect(papers.options.map(({ id }) => id)).toContain('overhaul');
    expect(await client.ask('gearquill/papers', { uri: client.uri('shop.yaml') })).toBeNull();
  });

  it('gives a page and a PDF under a name of their own', async () => {
    const page = await print('customer', 'html');
    expect(page.name).toBe('J-1076-customer.html');
    expect(textOf(page)).toMatch(/^<!doctype html>/);
    const pdf = await print('bench', 'pdf', { option: 'overhaul', paper: 'a4' });
    expect(pdf.name).toBe('J-1076-bench.pdf');
    expect('base64' in pdf.content && atob(pdf.content.base64).slice(0, 5)).toBe('%PDF-');
  });

  it('refuses in words what is not there', async () => {
    await expect(print('bench', 'csv')).rejects.toThrow('There is no bench sheet as csv.');
    await expect(print('bench', 'html', { option: 'nothing' })).rejects.toThrow('no option "nothing"');
    await expect(print('toString', 'html')).rejects.toThrow('There is no toString sheet');
  });
});

describe("an owner's answer", () => {
  it('is checked first: what it says, and nothing is written', async () => {
    const held = await answer<AnswerHeld>(await lineOf('overhaul', 'without HOS-B6'));
    expect(held).toMatchObject({ by: 'Cornelius Abara' });
    expect(held.left).toHaveLength(1);
    expect(held).not.toHaveProperty('edit');
  });

  it('is written as an edit of the lines that change: comments stay, and the job is authorized', async () => {
    const line = await lineOf('overhaul', 'without HOS-B6');
    const made = await answer<AnswerGiven>(line, GIVEN);
    expect(made.summary).toContain('Cornelius Abara chose');
    const [change] = made.edit.documentChanges as TextDocumentEdit[];
    const before = texts[JOB]!;
    const after = TextDocument.applyEdits(TextDocument.create('', '', 0, before), change!.edits as never[]);
    for (const comment of before.match(/#.*$/gm) ?? []) expect(after).toContain(comment);
    expect(after).toContain('c.abara@post.example');
    // Gone from the option that was chosen, still in the other.
    expect([before, after].map((text) => text.split('part: HOS-B6').length - 1)).toEqual([2, 1]);
    const kept = before.split('\n').filter((one) => after.includes(one));
    expect(kept.length).toBeGreaterThan(before.split('\n').length - 8);
  });

  it('with another total, for another job, or none at all is refused in words', async () => {
    const line = await lineOf('overhaul', 'all');
    await expect(answer(line.replace(/\d+\.\d\d USD/, '5000.00 USD'))).rejects.toThrow('5000 USD');
    await expect(answer(line.replace('J-1076', 'J-1042'))).rejects.toThrow('for job J-1042');
    await expect(answer('yes please')).rejects.toThrow('This is not an answer');
  });

  it('to an estimate that was changed meanwhile is refused', async () => {
    const line = await lineOf('overhaul', 'all');
    await client.open(JOB, texts[JOB]!.replace('general: 148.00', 'general: 149.00'));
    await expect(answer(line)).rejects.toThrow('The estimate was changed after the page was made');
    await client.close(JOB);
  });
});
