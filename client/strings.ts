/**
 * The sentences of the client that are shown, gathered for translators into client/l10n/bundle.l10n.json.
 * A translation is a copy of that file and of package.nls.json with the language in its name: bundle.l10n.es.json.
 */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

const FOLDER = import.meta.dirname;
export const BUNDLE = join(FOLDER, 'l10n/bundle.l10n.json');

/** The bundle as it has to be. */
export function bundleText(): string {
  const sources = readdirSync(FOLDER, { recursive: true, encoding: 'utf8' }).filter((path) =>
    path.endsWith('.ts'),
  );
  const sentences = new Set(
    sources.sort().flatMap((path) => sentencesIn(readFileSync(join(FOLDER, path), 'utf8'))),
  );
  return `${JSON.stringify(Object.fromEntries([...sentences].map((one) => [one, one])), null, 2)}\n`;
}

const CALL = /\b(?:l10n\.)?t\(\s*(?:'((?:[^'\\]|\\.)*)'|"((?:[^"\\]|\\.)*)")/g;

function sentencesIn(source: string): string[] {
  if (!source.includes("from 'vscode'")) return [];
  return [...source.matchAll(CALL)].map(([, single, double]) =>
    (single ?? double ?? '').replace(/\\(.)/g, '$1'),
  );
}

if (import.meta.main) writeFileSync(BUNDLE, bundleText());
