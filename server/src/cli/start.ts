/** `start`: the sample job, priced and checked. */
import { join } from 'node:path';
import { estimateText } from '../print/text.ts';
import { reports, reportText } from './check.ts';
import { display, findJob, openBook } from './open.ts';
import { ROOT } from './root.ts';

const SAMPLE = join(ROOT, 'samples/quarrow-creek');
const JOB = 'J-1042';

export function start(): void {
  const { file, estimates } = findJob(JOB, SAMPLE);
  const opened = openBook(SAMPLE);
  const files = opened.books.reduce((sum, { book }) => sum + [...book.files()].length, 0);
  const say = (text: string) => process.stdout.write(`${text}\n`);
  say(estimateText(estimates.of(file)!));
  say(reportText(reports(opened), files));
  say('');
  say(`The job is ${display(file.uri)}: change a line and run this again.`);
}
