/** What the preview and its page say to one another. Plain JSON both ways. */
import type { Location, Range } from 'vscode-languageserver-types';
import type { EstimateView } from '../../server/src/features/client/estimate-view.ts';
import type { FigureTree } from '../../server/src/features/client/figures.ts';
import type { Words } from './words.ts';

export type ToPage =
  | {
      readonly type: 'show';
      /** Undefined when the job cannot be read, or no job is open. */
      readonly view: EstimateView | undefined;
      readonly words: Words;
      readonly state: 'starting' | 'ready' | 'stopped';
    }
  /** Titles of the ways to mend a missing thing, by its place in the list. */
  | {
      readonly type: 'fixes';
      readonly fixes: readonly (readonly string[])[];
      /** Of one that mends everything at once. */
      readonly all: string | undefined;
    }
  /** The line of the job that the cursor is on. */
  | { readonly type: 'cursor'; readonly line: number }
  | { readonly type: 'figure'; readonly tree: FigureTree | undefined };

export type FromPage =
  | { readonly type: 'ready' }
  | { readonly type: 'reveal'; readonly range: Range }
  | { readonly type: 'open'; readonly place: Location }
  | { readonly type: 'figure'; readonly sale: string; readonly figure: string }
  /** By its title; for everything at once when no missing thing is named. */
  | { readonly type: 'fix'; readonly missing: number | undefined; readonly title: string }
  | { readonly type: 'restart' };

/** What the page keeps over a restart of the editor. */
export interface PageState {
  readonly uri: string;
}
