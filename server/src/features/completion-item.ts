/** Drafts of what is offered, and the list that a client is given. */
import type {
  CompletionItem,
  CompletionItemKind,
  CompletionList,
  MarkupContent,
} from 'vscode-languageserver-types';
import type { Span } from '../syntax/node.ts';
import type { Context, Slot } from './completion-context.ts';
import { written } from './completion-snippet.ts';
import { startOfLine } from './completion-text.ts';

/** Numbers of the protocol, which a type import cannot bring along. */
export const ITEM = {
  text: 1,
  property: 10,
  unit: 11,
  value: 12,
  enumMember: 20,
  reference: 18,
  snippet: 15,
  file: 17,
  folder: 19,
  constant: 21,
  event: 23,
  variable: 6,
  class: 7,
} as const satisfies Record<string, CompletionItemKind>;

/** Longer lists are cut, and the client is told to ask again as more is typed. */
export const MOST = 100;

const PLAIN = 1;
const SNIPPET = 2;
const AS_THEY_ARE = 1;
const ADJUSTED = 2;
const DEPRECATED = 1;

export interface Draft {
  /** What it is written into. */
  readonly slot: Slot;
  readonly label: string;
  readonly kind: CompletionItemKind;
  /** What is written; a single text is quoted where it has to be. */
  readonly insert: { readonly text: string } | { readonly source: string; readonly snippet: boolean };
  /** Right behind the label, and further right. */
  readonly detail?: string | undefined;
  readonly description?: string | undefined;
  readonly documentation?: string | undefined;
  /** What is typed is held against these; the label, when left out. */
  readonly match?: readonly string[] | undefined;
  /** It is known to match, whatever is typed. */
  readonly matches?: boolean;
  readonly deprecated?: boolean | undefined;
  /** Facts for `resolveCompletion`. */
  readonly data?: Readonly<Record<string, unknown>> | undefined;
  /** The list is wanted again once this is accepted. */
  readonly again?: boolean | undefined;
  /** What is replaced, when it is not all that stands there. */
  readonly span?: Span | undefined;
}

/** Drafts in the order in which they are offered; `cut`: there are more than these. */
export interface Drafts {
  readonly drafts: readonly Draft[];
  readonly cut: boolean;
}

export const NOTHING: CompletionList = { isIncomplete: false, items: [] };

/**
 * The client filters and sorts by itself. Where the list is whole it may: `sortText` keeps our order among what
 * matches equally well. Where it is cut, only what matches is in it, every item says that it does, and the client
 * asks again at each key.
 */
export function listOf(context: Context, { drafts, cut }: Drafts): CompletionList {
  const { typed } = context.typing;
  const isIncomplete = cut || drafts.length > MOST;
  const shown = isIncomplete ? drafts.filter((draft) => draft.matches || isMatch(draft, typed)) : drafts;
  const items = shown
    .slice(0, MOST)
    .map((draft, i) => itemOf(context, draft, i, isIncomplete ? typed : undefined));
  return { isIncomplete, items };
}

function itemOf(context: Context, draft: Draft, order: number, typed: string | undefined): CompletionItem {
  const { ask, piece, typing, file } = context;
  const snippet = 'source' in draft.insert && draft.insert.snippet;
  const newText = textOf(context, draft);
  const { again } = ask.client;
  return {
    label: draft.label,
    kind: draft.kind,
    ...details(draft),
    ...(draft.documentation ? { documentation: markup(context, draft.documentation) } : {}),
    ...(draft.deprecated ? { deprecated: true, tags: [DEPRECATED] } : {}),
    sortText: String(order).padStart(4, '0'),
    filterText: typed ?? (draft.match ?? [draft.label]).join(' '),
    insertTextFormat: snippet ? SNIPPET : PLAIN,
    insertTextMode: ask.client.linesAsTheyAre ? AS_THEY_ARE : ADJUSTED,
    textEdit: { range: file.source.rangeOf(piece, draft.span ?? typing.span), newText },
    ...(draft.again && again ? { command: { title: '', command: again } } : {}),
    ...(draft.data ? { data: { uri: file.uri, ...draft.data } } : {}),
  };
}

/** Beside the label where the client can, and as a whole for those that cannot. */
function details({ detail, description }: Draft): Pick<CompletionItem, 'detail' | 'labelDetails'> {
  if (!detail && !description) return {};
  return {
    detail: [detail, description].filter(Boolean).join(' · '),
    labelDetails: { ...(detail ? { detail: ` ${detail}` } : {}), ...(description ? { description } : {}) },
  };
}

export function markup({ ask }: Context, text: string): MarkupContent | string {
  return ask.client.markdown ? { kind: 'markdown', value: text } : text;
}

function textOf({ typing }: Context, { slot, insert }: Draft): string {
  const { quote } = typing;
  const inside = 'source' in insert ? insert.source : written(insert.text, quote?.mark, slot.flow);
  const close = quote && !quote.closed ? quote.mark : '';
  return typing.before + slot.lead + inside + slot.trail + close + typing.after;
}

/** Columns that the client puts before each line by itself. */
export function indentedBy(context: Context): number {
  if (context.ask.client.linesAsTheyAre) return 0;
  const { text } = context.piece;
  const start = startOfLine(text, context.typing.span.start);
  return /^[ \t]*/.exec(text.slice(start))![0].length;
}

function isMatch(draft: Draft, typed: string): boolean {
  const word = typed.trim().toLowerCase();
  return word === '' || rankOf(draft.match ?? [draft.label], word) < NO_MATCH;
}

export const NO_MATCH = 9;

/** How well a word matches: at the start, at the start of a word, anywhere, its letters in order; lower is better. */
export function rankOf(texts: readonly string[], word: string): number {
  let best = NO_MATCH;
  for (const text of texts) best = Math.min(best, rankIn(text.toLowerCase(), word));
  return best;
}

/** Both in lower case. */
export function rankIn(text: string, word: string): number {
  const at = text.indexOf(word);
  if (at === 0) return 0;
  if (at > 0) {
    for (let i = at; i !== -1; i = text.indexOf(word, i + 1)) if (isWordStart(text, i)) return 1;
    return 2;
  }
  let from = 0;
  for (let i = 0; i < word.length; i++) {
    const ch = word[i]!;
    if (ch === ' ') continue;
    const found = text.indexOf(ch, from);
    if (found === -1) return NO_MATCH;
    from = found + 1;
  }
  return 3;
}

function isWordStart(text: string, at: number): boolean {
  const before = text.charCodeAt(at - 1);
  const letter = (before >= 97 && before <= 122) || (before >= 48 && before <= 57) || before > 127;
  return !letter;
}
