// biome-ignore-all lint/suspicious/noTemplateCurlyInString: tab stops of snippets look so
/** A kind of file that exists only here: what the editor offers and tells comes from its declaration alone. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { field, type KindDeclaration, mapOf } from '../../../schemas/declare.ts';
import { KINDS, kindByName } from '../../../schemas/index.ts';
import { choice, file, quantity, ref } from '../../../schemas/scalars.ts';
import { Estimates } from '../../../server/src/estimate/estimates.ts';
import { hover } from '../../../server/src/features/hover.ts';
import { BOOK } from './completion-book.ts';
import { completed } from './completion-shown.ts';
import { fixture } from './fixture.ts';

const trial: KindDeclaration = {
  kind: 'trial',
  title: 'Trial',
  description: 'Made up for this test.',
  suffix: '.trial.yaml',
  schema: z.object({
    kind: z.literal('trial'),
    squeak: field('Squeak', 'How loudly it squeaks.', choice({ soft: 'Hardly.', loud: 'Across the yard.' }), {
      fallback: 'soft',
    }).optional(),
    tightness: field('Tightness', 'How tight it is.', quantity('torque'), { example: '10 N·m' }),
    replaces: field('Replaces', 'What it takes the place of.', z.array(ref('operation'))).optional(),
    weights: field('Weights', 'By unit family.', mapOf(ref('unit'), quantity('mass'))).optional(),
    shown: field('Shown', 'A picture of it.', file('picture')).optional(),
  }),
};

beforeAll(() => {
  (KINDS as KindDeclaration[]).push(trial);
  (kindByName as Map<string, KindDeclaration>).set('trial', trial);
});
afterAll(() => {
  (KINDS as KindDeclaration[]).pop();
  (kindByName as Map<string, KindDeclaration>).delete('trial');
});

const inTrial = (text: string) =>
  `${BOOK.trimEnd()}\n  === t.trial.yaml\n  kind: trial\n${text.replace(/^(?=.)/gm, '  ')}\n`;

describe('a field that is only declared', () => {
  it('is offered, needed ones first, and opened as it is read', () => {
    const { items, accept } = completed(inTrial('<|>'));
    expect(items).toEqual([
      'tightness : Tightness, needed',
      'squeak : Squeak',
      'replaces : Replaces',
      'weights : Weights',
      'shown : Shown',
    ]);
    expect(accept('squeak')).toBe('kind: trial\nsqueak: ${1|soft,loud|}\n');
    expect(accept('replaces')).toBe('kind: trial\nreplaces: [$1]\n');
    expect(accept('weights')).toBe('kind: trial\nweights:\n  $1\n');
  });

  it('has its values offered', () => {
    expect(completed(inTrial('squeak: <|>')).items).toEqual([
      'soft : Hardly (when left out)',
      'loud : Across the yard',
    ]);
    expect(completed(inTrial('tightness: 10 <|>')).labels).toContain('10 N·m');
    expect(completed(inTrial('replaces: [<|>]')).labels).toEqual(['rr-unit', 'flush', 'diesel-check']);
    expect(completed(inTrial('weights: { birch-6: 80 kg, <|> }')).labels).toEqual(['cedar-8']);
  });

  it('has a skeleton of its own', () => {
    expect(completed(`${BOOK.trimEnd()}\n  === t.trial.yaml\n  <|>\n`).accept('trial file')).toBe(
      'kind: trial\ntightness: $1\n',
    );
  });

  it('tells what it means on hover', () => {
    const at = fixture(inTrial('squ<|>eak: loud\nreplaces: [flush]'));
    const { file, position } = at;
    const told = hover({ estimates: new Estimates(at.book), file, position, markdown: false });
    expect(told?.contents).toEqual({
      kind: 'plaintext',
      value:
        'Squeak (squeak)\n\nHow loudly it squeaks.\n\n- soft: Hardly.\n- loud: Across the yard.\n\nLeft out: soft',
    });
  });
});
