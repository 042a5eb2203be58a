/** Conditions of rules whose values their finding cannot have. */
import type { Condition, Finding, Rule } from '../../../../schemas/kinds/rules.ts';
import type { Path } from '../../../../schemas/problem.ts';
import type { RuleBook } from '../model.ts';
import { compareReadings, type Reading, readReading } from '../readings.ts';
import { type EntryProblem, problemsOf } from './model.ts';

const BOUNDS = ['is', 'at-least', 'at-most'] as const;

export function conditionValues(book: RuleBook): EntryProblem[] {
  return [...book.rules].flatMap(([id, rule]) => [
    ...inCondition(id, rule.when, ['when'], book.findings),
    ...emptyNeeds(id, rule),
  ]);
}

function inCondition(
  id: string,
  condition: Condition,
  path: Path,
  findings: ReadonlyMap<string, Finding>,
): EntryProblem[] {
  const inner = (['all', 'any', 'none'] as const).flatMap((op) =>
    (condition[op] ?? []).flatMap((one, index) => inCondition(id, one, [...path, op, index], findings)),
  );
  return [...values(id, condition, path, findings), ...inner];
}

function values(
  id: string,
  condition: Condition,
  path: Path,
  findings: ReadonlyMap<string, Finding>,
): EntryProblem[] {
  const problem = problemsOf('rule', id);
  const given = BOUNDS.filter((bound) => condition[bound] !== undefined);
  if (condition.finding === undefined) {
    const alone = [...given, ...(condition.judged ? (['judged'] as const) : [])];
    return alone.map((field) =>
      problem(
        'condition-without-finding',
        'error',
        [...path, field],
        `\`${field}\` says nothing without a finding. Write \`finding:\` beside it.`,
      ),
    );
  }
  const finding = findings.get(condition.finding);
  if (!finding) return [];
  const problems: EntryProblem[] = [];
  const readings = new Map<string, Reading>();
  for (const bound of given) {
    const read = readReading(finding, condition[bound]!);
    if (!read.ok) problems.push(problem('condition-value', 'error', [...path, bound], read.message));
    else if (finding.kind === 'yes-no' && bound !== 'is') {
      const message = `${finding.name} is answered yes or no: write \`is\` instead of \`${bound}\`.`;
      problems.push(problem('condition-value', 'error', [...path, bound], message));
    } else readings.set(bound, read.value);
  }
  const [least, most] = [readings.get('at-least'), readings.get('at-most')];
  if (least && most && compareReadings(least, most) > 0) {
    const message = `Nothing is at least ${condition['at-least']} and at most ${condition['at-most']}, so this never holds.`;
    problems.push(problem('unreachable-rule', 'warning', [...path, 'at-least'], message));
  }
  return problems;
}

function emptyNeeds(id: string, rule: Rule): EntryProblem[] {
  const problem = problemsOf('rule', id);
  return (['requires', 'advises'] as const).flatMap((field) =>
    (rule[field] ?? []).flatMap((need, index) =>
      need.role !== undefined || need['any-of']?.length
        ? []
        : [
            problem(
              'need-without-role',
              'error',
              [field, index],
              'Say what is needed: a `role`, or several under `any-of`.',
            ),
          ],
    ),
  );
}
