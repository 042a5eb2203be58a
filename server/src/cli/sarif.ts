/** Problems as SARIF 2.1.0 (OASIS), which review tools show beside the lines of a change. */
import type { Severity } from '../../../schemas/problem.ts';
import { pageOf } from '../estimate/codes.ts';
import type { Report } from './check.ts';

const LEVELS: Record<Exclude<Severity, 'hint'>, 'error' | 'warning' | 'note'> = {
  error: 'error',
  warning: 'warning',
  information: 'note',
};

/** Hints are for the one who is writing, and left out. Files are named from the folder that the command runs in. */
export function sarifLog(found: readonly Report[], version: string): object {
  const shown = found.filter((one) => one.severity !== 'hint');
  const codes = [...new Set(shown.map((one) => one.code))].sort();
  return {
    $schema: 'https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json',
    version: '2.1.0',
    runs: [
      {
        tool: { driver: { name: 'Gearquill', version, rules: codes.map(rule) } },
        columnKind: 'utf16CodeUnits',
        results: shown.map(({ code, severity, message, file, ...span }) => ({
          ruleId: code,
          ruleIndex: codes.indexOf(code),
          level: LEVELS[severity as keyof typeof LEVELS],
          message: { text: message },
          locations: [
            {
              physicalLocation: {
                artifactLocation: { uri: uriOf(file), uriBaseId: '%SRCROOT%' },
                region: {
                  startLine: span.line,
                  startColumn: span.column,
                  endLine: span.endLine,
                  endColumn: span.endColumn,
                },
              },
            },
          ],
        })),
      },
    ],
  };
}

function rule(code: string) {
  const page = pageOf(code);
  if (!page) return { id: code };
  const { title, why, mend } = page;
  return {
    id: code,
    shortDescription: { text: `${title}.` },
    fullDescription: { text: why },
    help: { text: `${why} To mend it: ${mend}` },
  };
}

/** RFC 3986: a path as a relative reference. */
function uriOf(file: string): string {
  return file.split(/[/\\]/).map(encodeURIComponent).join('/');
}
