/** A field's meaning, from its declaration alone. */
import type { FieldMeta } from '../../../schemas/declare.ts';
import { DIMENSIONS, type Dimension, listed } from '../../../schemas/values/units.ts';
import type { Block } from './hover-blocks.ts';

/** Longer lists of words are told by completion, not here. */
const MOST_WORDS = 24;

export function fieldBlocks(meta: FieldMeta, key?: string): Block[] {
  const { title, description, unit, example, fallback, dimension } = meta;
  const words = Object.entries(meta.choices ?? {});
  const ours = (text: string): Block => ({ is: 'text', text, ours: true });
  return [
    ...(title ? [{ is: 'title', text: title, id: key } as const] : []),
    ...(description ? [ours(description)] : []),
    ...(words.length > 0 && words.length <= MOST_WORDS
      ? [ours(words.map(([word, meaning]) => `- \`${word}\`: ${meaning}`).join('\n'))]
      : []),
    {
      is: 'facts',
      rows: [
        ['In', unit ?? (dimension ? dimensionText(dimension as Dimension) : undefined)],
        ['Left out', fallback],
        ['For example', example && `${key ? `${key}: ` : ''}${example}`],
      ],
    },
  ];
}

function dimensionText(dimension: Dimension): string {
  return `${DIMENSIONS[dimension].spoken.replace(/^an? /, '')}, in ${listed(dimension)}`;
}
