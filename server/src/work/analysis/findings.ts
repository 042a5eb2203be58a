/** Findings, records and reasons for replacing that cannot work as they are declared. */
import type { Finding, RecordKind, Replacement } from '../../../../schemas/kinds/rules.ts';
import { parseQuantity } from '../../../../schemas/values/quantity.ts';
import { suggestion } from '../../../../schemas/values/words.ts';
import { dimensionOf, FIGURES, measurableNames, RECORD_FIELDS } from '../records/fields.ts';
import { type EntryProblem, problemsOf } from './model.ts';

export function findingDeclarations(findings: Iterable<readonly [string, Finding]>): EntryProblem[] {
  return [...findings].flatMap(([id, finding]) => findingProblems(id, finding));
}

function findingProblems(id: string, finding: Finding): EntryProblem[] {
  const problem = problemsOf('finding', id);
  const { kind, scale, normal, dimension } = finding;
  const problems: EntryProblem[] = [];
  if (kind === 'measurement' && !dimension) {
    const message = `${finding.name} does not say what it measures. Write \`dimension\`: flow, length, pressure, and so on.`;
    problems.push(problem('finding-without-dimension', 'error', ['kind'], message));
  }
  if (kind === 'scale' && (scale?.length ?? 0) < 2) {
    const message = `${finding.name} needs at least two words in its \`scale\`, from best to worst.`;
    problems.push(problem('finding-without-scale', 'error', [scale ? 'scale' : 'kind'], message));
  }
  const words = scale?.map((word) => word.trim().toLowerCase()) ?? [];
  words.forEach((word, index) => {
    if (words.indexOf(word) < index)
      problems.push(
        problem('scale-word-twice', 'error', ['scale', index], `"${word}" is on the scale twice.`),
      );
  });
  if (kind === 'scale' && normal !== undefined && !scale?.includes(normal)) {
    const message = `"${normal}" is not on the scale.${suggestion(normal, scale ?? [])}`;
    problems.push(problem('scale-word-unknown', 'error', ['normal'], message));
  }
  const unused = (['scale', 'normal', 'dimension'] as const).filter(
    (field) => finding[field] !== undefined && !FIELDS_OF[kind].includes(field),
  );
  for (const field of unused) {
    const message = `\`${field}\` has no meaning for a finding of the kind ${kind}.`;
    problems.push(problem('finding-field-unused', 'warning', [field], message));
  }
  return problems;
}

const FIELDS_OF: Readonly<Record<Finding['kind'], readonly string[]>> = {
  'yes-no': [],
  scale: ['scale', 'normal'],
  measurement: ['dimension'],
};

export function recordDeclarations(
  records: Iterable<readonly [string, RecordKind]>,
  findings: ReadonlyMap<string, Finding>,
): EntryProblem[] {
  return [...records].flatMap(([id, record]) => [
    ...unknownNeeds(id, record),
    ...bounds(id, record),
    ...measured(id, record, findings),
  ]);
}

function unknownNeeds(id: string, record: RecordKind): EntryProblem[] {
  const problem = problemsOf('record', id);
  return (record.needs ?? []).flatMap((name, index) => {
    if (RECORD_FIELDS.has(name)) return [];
    const message = `A record has no field "${name}".${suggestion(name, RECORD_FIELDS)}`;
    return [problem('record-field-unknown', 'error', ['needs', index], message)];
  });
}

function bounds(id: string, record: RecordKind): EntryProblem[] {
  const problem = problemsOf('record', id);
  return (['least', 'most'] as const).flatMap((side) =>
    Object.entries(record[side] ?? {}).flatMap(([name, text]) => {
      const dimension = dimensionOf(name, record.counted);
      if (!dimension) {
        const names = measurableNames(record.counted);
        const owner = Object.entries(FIGURES).find(([, figures]) => name in figures)?.[0];
        const hint = owner ? ` It is worked out by \`counted: ${owner}\`.` : suggestion(name, names);
        const message = `"${name}" is no field or figure of this record that can be measured.${hint}`;
        return [problem('record-field-unknown', 'error', [side, name], message)];
      }
      const read = parseQuantity(text, dimension);
      return read.ok ? [] : [problem('record-bound', 'error', [side, name], read.message)];
    }),
  );
}

function measured(id: string, record: RecordKind, findings: ReadonlyMap<string, Finding>): EntryProblem[] {
  const problem = problemsOf('record', id);
  const problems: EntryProblem[] = [];
  const kinds = (record.measures ?? []).map((finding, index) => {
    const entry = findings.get(finding);
    if (entry && entry.kind !== 'measurement') {
      const message = `${entry.name} is no measurement, so a record cannot hold a reading of it.`;
      problems.push(problem('record-measures', 'error', ['measures', index], message));
    }
    return entry;
  });
  const wanted =
    record.counted === 'flow-test' ? 'flow' : record.counted === 'level-check' ? 'temperature' : undefined;
  if (wanted && !kinds.some((entry) => !entry || entry.dimension === wanted)) {
    const message = `A ${record.counted} is judged by the limit of a ${wanted} that it measures. Name that finding under \`measures\`.`;
    problems.push(problem('record-not-judged', 'warning', ['counted'], message));
  }
  return problems;
}

export function replacementDeclarations(
  replacements: Iterable<readonly [string, Replacement]>,
): EntryProblem[] {
  return [...replacements].flatMap(([id, replacement]) => {
    const problem = problemsOf('replacement', id);
    return (replacement['not-accepted'] ?? []).flatMap((finding, index) => {
      if (!replacement.accepted.includes(finding)) return [];
      const message = `${finding} is listed as a reason and as none. Take it out of one of the two.`;
      return [problem('reason-both-ways', 'error', ['not-accepted', index], message)];
    });
  });
}
