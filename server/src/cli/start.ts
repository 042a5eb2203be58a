/** `start`: the sample job, priced and checked. */
import { join } from 'node:path';
import { estimateText } from '../print/text.ts';
import { fileCount, reports, reportText } from './check.ts';
import { display, jobWhere, openBook } from './open.ts';
import { ROOT } from './root.ts';

const SAMPLE = join(ROOT, 'samples/quarrow-creek');
const JOB = 'J-1042';

export function start(): void {
  const opened = openBook(SAMPLE);
  const { file, estimates } = jobWhere(opened, (book) => book.definition('job', JOB)?.facts.file)!;
  const say = (text: string) => process.stdout.write(`${text}\n`);
  say(estimateText(estimates.of(file)!));
  say(reportText(reports(opened), fileCount(opened)));
  say('');
  say(`The job is ${display(file.uri)}: change a line and run this again.`);
}
