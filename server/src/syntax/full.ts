import { Composer, type CST, type Document } from 'yaml';
import { clean } from './characters.ts';
import { type Finding, Findings, lineContent, lineStart } from './finding.ts';
import { FULL_LIMIT, PROBLEM_LIMIT } from './limits.ts';
import type { Node, Span, SyntaxProblem } from './node.ts';
import { problem } from './problems.ts';
import { project } from './project.ts';
import { screen } from './screen.ts';
import { tokens } from './tokens.ts';
import { translate } from './translate.ts';

/** How much text may be re-read in all, over the rounds of mending one piece. */
const MEND_BUDGET = 150_000;
const MEND_ROUNDS = 25;

/**
 * Reads any YAML through the `yaml` package. What is broken is reported, blanked out and read again, so that one
 * bad line costs itself and not its neighbours.
 */
export function readFull(text: string): { node: Node; problems: SyntaxProblem[] } {
  if (text.length > FULL_LIMIT)
    return {
      node: { type: 'empty', start: 0, end: 0 },
      problems: [
        problem(
          'yaml-too-large',
          0,
          Math.min(text.length, 1),
          `This block has more than ${FULL_LIMIT.toLocaleString('en-US')} characters and something in it that is not plain. Split it, or write its values on single lines.`,
        ),
      ],
    };
  const cleaned = clean(text);
  const said = [...cleaned.findings];
  const lines = new Set<number>();
  let current = cleaned.text;
  for (let round = 0; ; round++) {
    const reading = readOnce(current);
    const spent = round >= MEND_ROUNDS || round * text.length > MEND_BUDGET;
    const repair = sayUntilRepair(current, reading.findings, lines, said, !spent);
    const mended = repair && blank(current, repair);
    if (mended === undefined) return { node: reading.node, problems: report(said) };
    current = mended;
  }
}

/**
 * Takes over the findings on lines not spoken of yet, up to the first that can be mended: those after it may only
 * follow from it, and come again if not. A second finding on a line already blanked in part blanks the rest of it.
 */
function sayUntilRepair(
  text: string,
  findings: readonly Finding[],
  lines: Set<number>,
  said: Finding[],
  mend: boolean,
): Span | undefined {
  const known = new Set(lines);
  for (const item of findings) {
    const line = lineStart(text, item.start);
    const again = known.has(line);
    if (!again && said.length < PROBLEM_LIMIT) said.push(item);
    lines.add(line);
    if (!item.repair || !(mend || item.repair.end === text.length)) continue;
    const repair = again && item.repair.end < text.length ? lineContent(text, item.start) : item.repair;
    if (blank(text, repair) !== undefined) return repair;
  }
  return undefined;
}

interface Reading {
  readonly node: Node;
  readonly findings: readonly Finding[];
}

function readOnce(text: string): Reading {
  const trees = tokens(text);
  if (!Array.isArray(trees))
    return { node: { type: 'empty', start: text.length, end: text.length }, findings: [trees] };
  const found = new Findings();
  const used: CST.Token[] = [];
  let documents = 0;
  let errors = 0;
  for (const token of trees) {
    if (token.type === 'directive') refuseDirective(token, found);
    else if (token.type === 'doc-end') refuseEnd(token, found);
    else if (token.type !== 'document') {
      if (token.type !== 'error' || errors++ < PROBLEM_LIMIT) used.push(token);
    } else if (documents++ === 0) {
      screen(text, token, found);
      used.push(token);
    } else {
      refuseSecond(token, found);
      break;
    }
  }
  const doc = compose(used, text.length);
  for (const error of [...doc.errors.slice(0, PROBLEM_LIMIT), ...doc.warnings.slice(0, PROBLEM_LIMIT)])
    translate(text, error, found);
  const node = project(text, doc, found);
  return { node, findings: found.list.sort((a, b) => a.start - b.start) };
}

function compose(trees: readonly CST.Token[], length: number): Document {
  const { stackTraceLimit } = Error;
  // The package makes an Error for each problem; of a text that is all problems, the stack traces cost a minute.
  Error.stackTraceLimit = 0;
  try {
    const options = { strict: true, uniqueKeys: false, prettyErrors: false, logLevel: 'silent' } as const;
    const composer = new Composer({ schema: 'failsafe', ...options });
    return composer.compose(trees, true, length).next().value as Document;
  } finally {
    Error.stackTraceLimit = stackTraceLimit;
  }
}

function refuseDirective(token: CST.Directive, found: Findings): void {
  const span = { start: token.offset, end: token.offset + token.source.length };
  found.add('yaml-directive', span, 'A line that starts with % is not used here. Delete it.');
}

function refuseEnd(token: CST.DocumentEnd, found: Findings): void {
  found.add(
    'yaml-document-end',
    { start: token.offset, end: token.offset + 3 },
    'A line of three dots is not used here. Delete it; a file holds one set of data.',
  );
}

function refuseSecond(token: CST.Document, found: Findings): void {
  const mark = token.start.find((each) => each.type === 'doc-start');
  if (mark)
    found.add(
      'yaml-second-document',
      { start: mark.offset, end: mark.offset + 3 },
      'A second set of data starts here. Delete this line, or move what follows to a file of its own.',
    );
}

/** `text` with spaces for its own characters between the offsets; undefined when that changes nothing. */
function blank(text: string, { start, end }: Span): string | undefined {
  const stretch = text.slice(start, end);
  const spaces = stretch.replace(/[^\r\n]/g, ' ');
  return spaces === stretch ? undefined : text.slice(0, start) + spaces + text.slice(end);
}

function report(findings: readonly Finding[]): SyntaxProblem[] {
  return [...findings]
    .sort((a, b) => a.start - b.start)
    .map(({ code, start, end, message }) => problem(code, start, end, message));
}
