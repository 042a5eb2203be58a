/**
 * The output that README.md shows, made from the sample book.
 * `node tests/unit/house/readme-output.ts` writes it there; a test fails when it is not what the program prints.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { removeAt } from '../../../server/src/features/edits.ts';
import { estimateText } from '../../../server/src/print/text.ts';
import { alarms, openSample } from '../sample/sample.ts';

const README = join(import.meta.dirname, '../../../README.md');
const BLOCK = /<!-- output: (\w+) -->(?:\r?\n```text\n[\s\S]*?\n```)?/g;

export function readme(): string {
  return readFileSync(README, 'utf8');
}

/** README.md with each marked block as the program prints it now. */
export function withOutput(text: string): string {
  return text.replace(
    BLOCK,
    (_, name: string) => `<!-- output: ${name} -->\n\`\`\`text\n${OUTPUTS[name]?.() ?? ''}\n\`\`\``,
  );
}

const OUTPUTS: Readonly<Record<string, () => string>> = { price, check };

function price(): string {
  const { book, estimates } = openSample();
  return estimateText(estimates.of(book.definition('job', 'J-1042')!.facts.file)!, {
    option: 'overhaul',
  }).trimEnd();
}

/** What is said when the radiator is taken out of the estimate that has not been worked on yet. */
function check(): string {
  const { book, estimates } = openSample();
  const file = book.definition('job', 'J-1042')!.facts.file;
  const radiator = estimates
    .of(file)!
    .chosen!.lines.find(({ line }) => 'part' in line && line.part === 'RAD-7120')!;
  for (const path of [['records'], ['completed'], ['authorizations'], radiator.path]) {
    book.edit(
      file.uri,
      removeAt(file, path)!.map(({ range, newText }) => ({ range, text: newText })),
    );
  }
  return alarms(estimates, file)
    .filter(({ problem }) => problem.code === 'missing-work')
    .map(({ problem, piece, start }) => {
      const { line, character } = file.source.positionOf(piece, start);
      return `jobs/J-1042.job.yaml:${line + 1}:${character + 1}: ${problem.severity}: ${problem.message} [${problem.code}]`;
    })
    .join('\n');
}

if (import.meta.main) writeFileSync(README, withOutput(readme()));
