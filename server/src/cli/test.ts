/** `test`: the shop's own cases, as text or as JUnit XML. */
import { type CaseResult, runCases } from '../estimate/cases.ts';
import { display, type Opened } from './open.ts';

export function caseResults(opened: Opened): CaseResult[] {
  return opened.books.flatMap(({ book, estimates }) =>
    [...book.filesOf('cases')].flatMap((file) => [...runCases(estimates, file)]),
  );
}

export function caseText(results: readonly CaseResult[]): string {
  const lines = results.flatMap(({ id, name, file, mismatches }) => {
    if (mismatches.length === 0) return [];
    return [
      `${display(file.uri)}: ${id}${name === id ? '' : ` (${name})`}`,
      ...mismatches.flatMap((one) => [
        `  ${String(one.path.at(-1))}: ${one.message}`,
        `    expected: ${one.expected}`,
        `    actual:   ${one.actual.replace(/\n/g, '\n              ')}`,
      ]),
    ];
  });
  const failed = results.filter((one) => one.mismatches.length > 0).length;
  return [...lines, `${results.length} cases: ${results.length - failed} as expected, ${failed} not.`].join(
    '\n',
  );
}

export function caseJUnit(results: readonly CaseResult[]): string {
  const failed = results.filter((one) => one.mismatches.length > 0).length;
  const rows = results.map(({ id, name, file, mismatches }) => {
    const head = `    <testcase classname="${escapeXml(display(file.uri))}" name="${escapeXml(name === id ? id : `${id}: ${name}`)}"`;
    if (mismatches.length === 0) return `${head}/>`;
    const failures = mismatches.map(
      (one) =>
        `      <failure message="${escapeXml(one.message)}">${escapeXml(`expected: ${one.expected}\nactual: ${one.actual}`)}</failure>`,
    );
    return [`${head}>`, ...failures, '    </testcase>'].join('\n');
  });
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<testsuites tests="${results.length}" failures="${failed}">`,
    `  <testsuite name="gearquill cases" tests="${results.length}" failures="${failed}">`,
    ...rows,
    '  </testsuite>',
    '</testsuites>',
  ].join('\n');
}

// biome-ignore lint/suspicious/noControlCharactersInRegex: XML 1.0 has no place for control characters
const UNPRINTABLE = /[\u0000-\u0008\u000b\u000c\u000e-\u001f]/g;

function escapeXml(text: string): string {
  return text
    .replace(UNPRINTABLE, '')
    .replace(/&/g, '&amp;')
    .replace(/</g, '&lt;')
    .replace(/>/g, '&gt;')
    .replace(/"/g, '&quot;');
}
