/** "Write it out": a line that takes a template becomes the lines that the template gives, parameters filled in. */
import type { CodeAction } from 'vscode-languageserver-types';
import type { Job } from '../../../../schemas/kinds/job.ts';
import { line, type TemplateLine } from '../../../../schemas/kinds/lines.ts';
import type { Path } from '../../../../schemas/problem.ts';
import { unfoldingOf } from '../../estimate/conditions.ts';
import { isTemplate, unfold } from '../../estimate/unfold.ts';
import { applyEdits, type TextEdit } from '../../syntax/edit.ts';
import { type ListNode, type Node, nodeAt, type Plain, samePlain, toPlain } from '../../syntax/node.ts';
import { readPiece } from '../../syntax/read.ts';
import { writeFlow, writeItem } from '../../syntax/write.ts';
import { placeAt } from '../place.ts';
import { type ActionContext, action } from './context.ts';

const INLINE = 'refactor.inline';

export function writeOut(context: ActionContext): CodeAction[] {
  const { file, range, estimates } = context;
  if (file.kind?.kind !== 'job') return [];
  const { levels, piece } = placeAt(file, range.start);
  const at = levels.findLastIndex(({ path }) => path.at(-2) === 'lines' && typeof path.at(-1) === 'number');
  const level = levels[at];
  const list = levels[at - 1]?.node;
  if (!level || list?.type !== 'list') return [];
  const judged = line.safeParse(toPlain(level.node));
  if (!judged.success || !isTemplate(judged.data)) return [];
  const call = judged.data;
  const lookup = unfoldingOf(file.value as Job, estimates.catalogFor(file.uri));
  const { written, problems } = unfold([call], () => level.path, lookup);
  if (written.length === 0 || problems.some(({ severity }) => severity === 'error')) return [];
  const lines = withNote(
    written.map((one) => changedBy(one, toPlain(level.node))),
    call,
  );
  const edit = itemsFor(piece.text, list, level.node, lines);
  if (!edit || !readsBack(piece.text, edit, level.path, lines)) return [];
  const title = `Write out the ${lines.length} ${lines.length === 1 ? 'line' : 'lines'} of ${call.template}`;
  return [action(context, title, INLINE, [{ range: file.source.rangeOf(piece, edit), newText: edit.text }])];
}

/** The line with what the job says differs from the template. */
function changedBy(one: Plain, call: Plain): Plain {
  const { part, operation } = one as { part?: string; operation?: string };
  const changes = (call as { change?: { [id: string]: { [key: string]: Plain } } }).change;
  const change = changes?.[operation ?? part ?? ''];
  return change ? { ...(one as { [key: string]: Plain }), ...change } : one;
}

/** What the shop has noted about the template stays, with its first line. */
function withNote([first, ...rest]: readonly Plain[], { note }: TemplateLine): Plain[] {
  if (note === undefined || first === null || typeof first !== 'object' || Array.isArray(first))
    return [first!, ...rest];
  return [first && 'note' in first ? first : { ...first, note }, ...rest];
}

function itemsFor(text: string, list: ListNode, item: Node, lines: readonly Plain[]): TextEdit | undefined {
  if (list.flow) return { start: item.start, end: item.end, text: lines.map(writeFlow).join(', ') };
  const dash = text.lastIndexOf('-', item.start - 1);
  const start = text.lastIndexOf('\n', dash) + 1;
  const pad = text.slice(start, dash);
  if (pad.trim() !== '') return undefined;
  const rest = text.slice(item.end).search(/[\r\n]|$/);
  const end = item.end + rest;
  const eol = /\r\n|\n|\r/.exec(text)?.[0] ?? '\n';
  const setting = { column: pad.length, eol, flow: false };
  const made = [...commentsIn(text.slice(dash, end)), ...lines.map((one) => writeItem(one, setting))];
  return { start: dash, end, text: made.join(eol + pad) };
}

const QUOTED = /"(?:[^"\\]|\\.)*"|'(?:[^']|'')*'/g;

/** The comments of the lines that go; they stand above what comes instead. */
function commentsIn(source: string): string[] {
  return source.split(/\r\n|\n|\r/).flatMap((one) => {
    const blind = one.replace(QUOTED, (quoted) => '"'.repeat(quoted.length));
    const at = blind.search(/(?<=^|\s)#/);
    return at < 0 ? [] : [one.slice(at).trimEnd()];
  });
}

/** Whether the job, so written, says what it said but for these lines. */
function readsBack(text: string, edit: TextEdit, path: Path, lines: readonly Plain[]): boolean {
  const before = readPiece(text).node;
  const after = readPiece(applyEdits(text, [edit]));
  const at = Number(path.at(-1));
  const parent = path.slice(0, -1);
  const old = toPlain(nodeAt(before, parent)) as Plain[];
  const wanted = [...old.slice(0, at), ...lines, ...old.slice(at + 1)];
  return after.problems.length === 0 && samePlain(toPlain(nodeAt(after.node, parent)), wanted);
}
