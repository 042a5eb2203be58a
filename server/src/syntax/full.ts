import { Composer, type CST, type Document, Parser } from 'yaml';
import { clean } from './characters.ts';
import { type Finding, finding, lineContent, lineStart } from './finding.ts';
import { FULL_LIMIT } from './limits.ts';
import type { Node, SyntaxProblem } from './node.ts';
import { problem } from './problems.ts';
import { project } from './project.ts';
import { screen } from './screen.ts';
import { translate } from './translate.ts';

/** How much text may be re-read in all, over the rounds of mending one piece. */
const MEND_BUDGET = 400_000;
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
  let current = cleaned.text;
  const findings = [...cleaned.findings];
  const lines = new Set<number>();
  for (let round = 0; ; round++) {
    const read = readOnce(current);
    const last = round >= MEND_ROUNDS || round * text.length > MEND_BUDGET;
    let mended: string | undefined;
    const before = new Set(lines);
    for (const item of read.findings) {
      const line = lineStart(current, item.start);
      const known = before.has(line);
      if (!known) {
        findings.push(item);
        lines.add(line);
      }
      if (!item.repair || last) continue;
      const repair = known ? lineContent(current, item.start) : item.repair;
      mended = blank(current, repair.start, repair.end);
      if (mended !== undefined) break;
    }
    if (mended === undefined) return { node: read.node, problems: report(findings) };
    current = mended;
  }
}

function readOnce(text: string): { node: Node; findings: Finding[] } {
  const findings: Finding[] = [];
  const tokens: CST.Token[] = [];
  for (const token of new Parser().parse(text)) {
    if (token.type === 'document') {
      if (tokens.some((t) => t.type === 'document')) {
        const mark = token.start.find((t) => t.type === 'doc-start');
        if (mark)
          findings.push(
            finding(
              'yaml-second-document',
              { start: mark.offset, end: mark.offset + 3 },
              'A second set of data starts here. Delete this line, or move what follows to a file of its own.',
            ),
          );
        break;
      }
      findings.push(...screen(text, token));
      tokens.push(token);
    } else if (token.type === 'directive') {
      findings.push(
        finding(
          'yaml-directive',
          { start: token.offset, end: token.offset + token.source.length },
          'A line that starts with % is not used here. Delete it.',
        ),
      );
    } else if (token.type === 'doc-end') {
      findings.push(
        finding(
          'yaml-document-end',
          { start: token.offset, end: token.offset + 3 },
          'A line of three dots is not used here. Delete it; a file holds one set of data.',
        ),
      );
      if (tokens.some((t) => t.type === 'document')) continue;
    } else tokens.push(token);
  }
  const composer = new Composer({
    schema: 'failsafe',
    strict: true,
    uniqueKeys: false,
    prettyErrors: false,
    logLevel: 'silent',
  });
  const doc = composer.compose(tokens, true, text.length).next().value as Document;
  for (const error of [...doc.errors, ...doc.warnings]) {
    const said = translate(text, error);
    if (said) findings.push(said);
  }
  const projected = project(text, doc);
  findings.push(...projected.findings);
  return { node: projected.node, findings: findings.sort((a, b) => a.start - b.start) };
}

/** `text` with spaces for its own characters between the offsets; undefined when that changes nothing. */
function blank(text: string, start: number, end: number): string | undefined {
  const stretch = text.slice(start, end);
  const spaces = stretch.replace(/[^\r\n]/g, ' ');
  return spaces === stretch ? undefined : text.slice(0, start) + spaces + text.slice(end);
}

function report(findings: readonly Finding[]): SyntaxProblem[] {
  return [...findings]
    .sort((a, b) => a.start - b.start)
    .map(({ code, start, end, message }) => problem(code, start, end, message));
}
