/** Every kind of file, in one list. Adding a kind is adding its file and its name here. */
import type { KindDeclaration } from './declare.ts';
import { casesKind } from './kinds/cases.ts';
import { jobKind } from './kinds/job.ts';
import { jurisdictionKind } from './kinds/jurisdiction.ts';
import { laborKind } from './kinds/labor.ts';
import { partsKind } from './kinds/parts.ts';
import { rulesKind } from './kinds/rules.ts';
import { shopKind } from './kinds/shop.ts';
import { templateKind } from './kinds/template.ts';
import { unitsKind } from './kinds/units.ts';

export const KINDS: readonly KindDeclaration[] = [
  shopKind,
  jurisdictionKind,
  partsKind,
  laborKind,
  unitsKind,
  rulesKind,
  templateKind,
  jobKind,
  casesKind,
];

export const kindByName: ReadonlyMap<string, KindDeclaration> = new Map(
  KINDS.map((kind) => [kind.kind, kind]),
);
