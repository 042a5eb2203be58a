/** A measurement that the unit family has no limit for: the limit is begun there, to be filled in. */
import type { CodeAction } from 'vscode-languageserver-types';
import type { Finding } from '../../../../schemas/kinds/rules.ts';
import type { Unit } from '../../../../schemas/kinds/units.ts';
import type { Found } from '../../estimate/problems.ts';
import type { Plain } from '../../syntax/node.ts';
import { addPair } from '../edits.ts';
import { type ActionContext, mend } from './context.ts';

interface Data {
  readonly unit?: string;
  readonly limit?: string;
}

/** The figures stay empty: they are the maker's, and only the shop can know them. */
const LIMIT: Plain = { rows: [{ least: null, most: null }], source: null };

export function limitActions(context: ActionContext, found: Found): CodeAction[] {
  const { unit, limit } = (found.problem.data ?? {}) as Data;
  if (unit === undefined || limit === undefined) return [];
  const { book } = context.estimates;
  const home = book.definition('unit', unit)?.facts.file;
  if (!home) return [];
  const family = book.value('unit', unit) as Unit | undefined;
  const finding = book.value('finding', limit) as Finding | undefined;
  const at = ['units', unit];
  const edits =
    family?.limits === undefined
      ? addPair(home, at, 'limits', { [limit]: LIMIT })
      : addPair(home, [...at, 'limits'], limit, LIMIT);
  const title = `Begin a limit for ${finding?.name ?? limit} in ${family?.name ?? unit}`;
  return mend(context, found, title, edits, true, home);
}
