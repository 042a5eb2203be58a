/** Values of findings, and numbers with their unit of measure. */
import type { FieldMeta } from '../../../schemas/declare.ts';
import type { Finding } from '../../../schemas/kinds/rules.ts';
import type { Unit as Family } from '../../../schemas/kinds/units.ts';
import { type Dimension, findUnit, type Unit, unitsOf } from '../../../schemas/values/units.ts';
import { type Context, nearest, type Slot, unitFor } from './completion-context.ts';
import { type Draft, ITEM } from './completion-item.ts';
import type { SingleSource, SnippetWriter } from './completion-snippet.ts';

/** The finding that a reading at this place is of. */
export function findingAt(context: Context): { id: string; finding: Finding } | undefined {
  const id = nearest(context, 'finding');
  const finding = id === undefined ? undefined : (context.book.value('finding', id) as Finding | undefined);
  return id !== undefined && finding ? { id, finding } : undefined;
}

/** What is inserted for a reading of a finding. */
export function readingOf(context: Context, id: string | undefined): SingleSource {
  return (writer: SnippetWriter, meta: FieldMeta) => {
    const finding = id === undefined ? undefined : (context.book.value('finding', id) as Finding | undefined);
    if (meta.scalar !== 'reading' || id === undefined || !finding) return undefined;
    if (finding.kind === 'yes-no') return writer.choice(['yes', 'no']);
    if (finding.kind === 'scale') return finding.scale ? writer.choice(finding.scale) : undefined;
    const unit = usualUnit(context, id, finding);
    return unit && `${writer.stop()} ${writer.text(unit.id)}`;
  };
}

export function readingDrafts(context: Context, slot: Slot, meta: FieldMeta): Draft[] {
  const at = findingAt(context);
  if (!at) return exampleDrafts(slot, meta);
  const { finding } = at;
  if (finding.kind === 'yes-no') {
    return [
      wordDraft(slot, 'yes', finding.name),
      wordDraft(
        slot,
        'no',
        [`not: ${finding.name}`, finding.sensitivity && `the test sees no less than ${finding.sensitivity}`]
          .filter(Boolean)
          .join('; '),
      ),
    ];
  }
  if (finding.kind === 'scale') {
    const normal = finding.scale?.indexOf(finding.normal ?? finding.scale[0] ?? '') ?? -1;
    return (finding.scale ?? []).map((word, i) =>
      wordDraft(slot, word, i <= normal ? 'normal' : 'worse than normal'),
    );
  }
  if (!finding.dimension) return [];
  return quantityDrafts(context, slot, finding.dimension, usualUnit(context, at.id, finding), undefined);
}

function wordDraft(slot: Slot, word: string, meaning: string): Draft {
  return { slot, label: word, kind: ITEM.enumMember, insert: { text: word }, description: meaning };
}

/** The unit that the family's limit is written in, else the most usual one. */
function usualUnit(context: Context, id: string, finding: Finding): Unit | undefined {
  if (!finding.dimension) return undefined;
  const family = unitFor(context);
  const limits =
    family === undefined ? undefined : (context.book.value('unit', family) as Family | undefined)?.limits;
  const row = limits && Object.hasOwn(limits, id) ? limits[id]?.rows[0] : undefined;
  const typed = /[^\d.,\s-].*$/.exec(row?.least ?? row?.most ?? '')?.[0];
  const unit = typed === undefined ? undefined : findUnit(typed);
  return unit?.dimension === finding.dimension ? unit : unitsOf(finding.dimension)[0];
}

const NUMBER = /^(.*?\d[\d,]*(?:\.\d*)?)\s*(\D*)$/;

/** After a number: the same number with each unit. Before one: an example, and the units to type a number for. */
export function quantityDrafts(
  context: Context,
  slot: Slot,
  dimension: Dimension,
  usual: Unit | undefined,
  example: string | undefined,
): Draft[] {
  const number = NUMBER.exec(context.typing.typed)?.[1];
  const units = [...unitsOf(dimension)];
  if (usual) units.sort((a, b) => Number(b === usual) - Number(a === usual));
  if (number !== undefined) {
    return units.map((unit) => {
      const text = unit.id === '' ? number : `${number} ${unit.id}`;
      const match = [text, ...unit.aliases.map((alias) => `${number} ${alias}`)];
      return { slot, label: text, kind: ITEM.unit, insert: { text }, description: unit.name, match };
    });
  }
  const examples = example === undefined ? [] : exampleDrafts(slot, { example });
  if (!context.ask.client.snippets || context.typing.quote) return examples;
  const typed = units.map((unit): Draft => {
    const insert = { source: `\${1:0} ${unit.id}`.trim(), snippet: true };
    return { slot, label: `0 ${unit.id}`.trim(), kind: ITEM.unit, insert, description: unit.name };
  });
  return [...examples, ...typed];
}

export function exampleDrafts(slot: Slot, { example }: FieldMeta): Draft[] {
  if (example === undefined) return [];
  return [{ slot, label: example, kind: ITEM.value, insert: { text: example }, description: 'for example' }];
}
