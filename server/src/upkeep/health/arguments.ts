/** What templates are called with, and what their parameters stand for by themselves: texts that may be ids. */
import type { Job } from '../../../../schemas/kinds/job.ts';
import type { Template } from '../../../../schemas/kinds/template.ts';
import type { Book } from '../../book/book.ts';
import { isOpen, isPresented, jobOf, nameOf } from '../jobs.ts';

/** By text, who gives it. Of jobs only those whose prices may still move, unless `all` are asked for. */
export function argumentsOf(book: Book, all = false): Map<string, string[]> {
  const found = new Map<string, string[]>();
  const add = (value: unknown, who: string) => {
    if (typeof value !== 'string' || value.startsWith('$')) return;
    const list = found.get(value);
    if (list) list.push(who);
    else found.set(value, [who]);
  };
  const addCalls = (lines: readonly unknown[] | undefined, who: string) => {
    for (const line of lines ?? []) {
      const given = (line as { with?: Record<string, unknown> } | null)?.with;
      if (given && typeof given === 'object') for (const value of Object.values(given)) add(value, who);
    }
  };
  for (const file of book.filesOf('job')) {
    const job: Partial<Job> = jobOf(file);
    if (!all && (!isOpen(jobOf(file)) || isPresented(jobOf(file)))) continue;
    const who = `job ${nameOf(file)}`;
    addCalls(job.lines, who);
    for (const option of Object.values(job.options ?? {})) addCalls(option.lines, who);
    addCalls(job.teardown?.lines, who);
    addCalls(job.teardown?.['if-declined'], who);
  }
  for (const file of book.filesOf('template')) {
    const template = file.value as Partial<Template>;
    const who = `template ${template.id ?? ''}`;
    addCalls(template.lines, who);
    for (const parameter of Object.values(template.parameters ?? {})) {
      add(parameter.default, who);
      for (const choice of parameter.choices ?? []) add(choice, who);
    }
  }
  return found;
}
