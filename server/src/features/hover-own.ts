/** Fields that the shop declares, on hover: the field itself, and a value of one. */
import { metaOf } from '../../../schemas/declare.ts';
import { NAMEABLE, type OwnField, ownSchema } from '../../../schemas/kinds/own.ts';
import type { Block } from './hover-blocks.ts';
import { fieldBlocks } from './hover-field.ts';
import { scalarBlocks } from './hover-values.ts';
import { usedBy, type View } from './hover-view.ts';

export function ownFieldBlocks(view: View, id: string, field: OwnField): Block[] {
  const { names, on, print = [] } = field;
  return [
    ...fieldBlocks(metaOf(ownSchema(field)), id),
    {
      is: 'facts',
      rows: [
        ['Names', names && NAMEABLE[names]],
        ['On', on.join(', ')],
        ['Printed on', print.length === 0 ? 'no paper' : print.join(', ')],
      ],
    },
    ...usedBy(view, 'field', id),
  ];
}

/** What a value says: a word its meaning, a quantity its other units; then the field. */
export function ownValueBlocks(view: View, id: string, field: OwnField, typed: string): Block[] {
  const meta = metaOf(ownSchema(field));
  const said = scalarBlocks(view, meta, typed, id);
  const told = fieldBlocks({ ...meta, choices: {} }, id);
  return said.length === 0 ? told : [...said, { is: 'rule' }, ...told];
}
