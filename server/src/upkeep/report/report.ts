/** A report as tables: what a terminal, a spreadsheet, a pull request and the editor show is made from this alone. */

/** Where in the book something stands; lines count from 0. */
export interface Place {
  readonly uri: string;
  readonly line: number;
}

/** Raw text, whatever it holds: whoever writes it out makes it safe there. */
export interface Cell {
  readonly text: string;
  readonly at?: Place | undefined;
}

export interface Column {
  readonly head: string;
  /** Digits, set to the right. */
  readonly figure?: boolean;
}

export interface Table {
  readonly title: string;
  readonly note?: string | undefined;
  readonly columns: readonly Column[];
  readonly rows: readonly (readonly Cell[])[];
  /** What the rows come to, under a rule. */
  readonly sum?: readonly Cell[] | undefined;
}

export interface Report {
  readonly title: string;
  /** Sentences: what it comes to. */
  readonly lead: readonly string[];
  readonly tables: readonly Table[];
}

export const cell = (text: string, at?: Place): Cell => (at ? { text, at } : { text });

export function plural(count: number, word: string, many = `${word}s`): string {
  return `${count} ${count === 1 ? word : many}`;
}
