/** Whole files, for an empty one: what its kind cannot do without, as tab stops. */
import { z } from 'zod';
import { KINDS } from '../../../schemas/index.ts';
import { fieldsOf } from '../../../schemas/walk.ts';
import { kindByFileName } from '../book/file.ts';
import type { Context, Slot } from './completion-context.ts';
import { type Draft, ITEM } from './completion-item.ts';
import { writerAt } from './completion-writer.ts';

export function skeletonDrafts(context: Context): Draft[] {
  const { file, typing, levels } = context;
  const atTop = typing.name && typing.inner !== undefined && levels.length === 0 && typing.path.length === 0;
  if (!atTop || typing.colon) return kindValues(context);
  const slot: Slot = {
    declared: z.unknown(),
    name: true,
    value: false,
    taken: new Map(),
    column: 0,
    flow: false,
    lead: '',
    trail: '',
  };
  const empty =
    file.source
      .text()
      .replace(/^\s*#.*$/gm, '')
      .trim() === typing.typed.trim();
  if (!empty) return file.kind ? [] : [kindLine(context, slot)];
  const kinds = [kindByFileName(file.uri) ?? KINDS].flat();
  return kinds.map((kind): Draft => {
    const writer = writerAt(context);
    const fields = [...fieldsOf(kind.schema).values()].filter(
      (field) => field.required || field.meta.catalog,
    );
    const source = fields.map((field) => writer.pair(field.key, field.schema, 0, false)).join(writer.line(0));
    return {
      slot,
      label: `${kind.kind} file`,
      kind: ITEM.snippet,
      insert: { source, snippet: writer.snippet },
      description: kind.title,
      documentation: kind.description,
      match: [`kind: ${kind.kind}`, kind.kind],
    };
  });
}

function kindLine(context: Context, slot: Slot): Draft {
  const writer = writerAt(context);
  const source = `kind: ${writer.choice(KINDS.map((kind) => kind.kind))}`;
  return {
    slot,
    label: 'kind',
    kind: ITEM.property,
    insert: { source, snippet: writer.snippet },
    description: 'what sort of file this is',
  };
}

/** `kind:` in a file that is of no known kind yet. */
function kindValues(context: Context): Draft[] {
  const { file, typing } = context;
  if (file.kind || typing.path.length !== 1 || typing.path[0] !== 'kind' || !typing.value) return [];
  const slot: Slot = {
    declared: z.unknown(),
    name: false,
    value: true,
    taken: new Map(),
    column: 0,
    flow: false,
    lead: '',
    trail: '',
  };
  return KINDS.map((kind) => ({
    slot,
    label: kind.kind,
    kind: ITEM.enumMember,
    insert: { text: kind.kind },
    description: kind.title,
    documentation: kind.description,
  }));
}
