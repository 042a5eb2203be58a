/** What is wrong, in one shape for every layer. */
import type { RefKind } from './declare.ts';

export type Severity = 'error' | 'warning' | 'information' | 'hint';

/** Keys and list positions from the root of a file's (or an entry's) value down to what is meant. */
export type Path = readonly (string | number)[];

export interface Problem {
  /** Stable; each has a `CodePage`. */
  readonly code: string;
  readonly severity: Severity;
  /** What is wrong and what to do, in a shop writer's words. */
  readonly message: string;
  /** Where: the value at this path, or the key when `onKey`. */
  readonly path: Path;
  readonly onKey?: boolean;
  /** Entries of the book that have a part in it. */
  readonly related?: readonly { readonly kind: RefKind; readonly id: string; readonly message: string }[];
  readonly tags?: readonly ('deprecated' | 'unnecessary')[];
  /** Facts for the edits that mend it; JSON values only. */
  readonly data?: Readonly<Record<string, unknown>>;
}

/** The page that `explain CODE` prints and the editor links to. */
export interface CodePage {
  readonly code: string;
  readonly title: string;
  /** Why it is a problem: what it costs or what it breaks. */
  readonly why: string;
  /** A few lines of a file that give it. */
  readonly example: string;
  readonly mend: string;
}
