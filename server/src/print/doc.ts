/** A paper as blocks, before it is a page, a PDF or plain text. What it says is decided here; how it looks, is not. */
import type { Decimal } from '../../../schemas/values/decimal.ts';

export interface Doc {
  /** Language tag of the text. */
  readonly lang: string;
  readonly title: string;
  readonly head: Head;
  readonly blocks: readonly Block[];
  /** At the foot of every printed page. */
  readonly foot: string;
  /** `Page {page} of {pages}` in the language of the paper. */
  readonly pageLabel: string;
  /** Day the paper is of, `2026-03-05`. */
  readonly day: string;
  /** Said at the top and at the end: demonstration data. */
  readonly notice?: string | undefined;
}

export interface Head {
  readonly shop: string;
  readonly address: readonly string[];
  /** What the paper is: `Estimate`. */
  readonly what: string;
  readonly number: string;
  readonly facts: readonly Fact[];
}

export interface Fact {
  readonly label: string;
  readonly value: string;
}

export type Block =
  | Section
  | Part
  | Text
  | List
  | { readonly block: 'facts'; readonly rows: readonly Fact[] }
  | Table
  | Finding
  | Chain
  | Cards
  | Chart
  | Choose
  | { readonly block: 'picture'; readonly picture: Picture }
  | { readonly block: 'sign'; readonly lines: readonly string[] }
  | Steps;

export interface Section {
  readonly block: 'section';
  readonly id: string;
  readonly title: string;
  readonly blocks: readonly Block[];
}

/** A smaller heading inside a section. */
export interface Part {
  readonly block: 'part';
  readonly id?: string | undefined;
  readonly title: string;
  readonly blocks: readonly Block[];
}

export interface Text {
  readonly block: 'text';
  readonly as: 'plain' | 'lead' | 'quote' | 'small' | 'strong';
  readonly text: string;
  readonly label?: string | undefined;
}

export interface List {
  readonly block: 'list';
  readonly items: readonly string[];
}

export interface Column {
  readonly title: string;
  readonly align: 'left' | 'right';
  /** Kept narrow; the widest column takes what is left. */
  readonly narrow?: boolean | undefined;
}

export interface Row {
  readonly as: 'row' | 'group' | 'subtotal' | 'total';
  readonly cells: readonly string[];
  /** Beside the first cell, lighter: number and condition. */
  readonly aside?: string | undefined;
  /** In small letters below the first cell. */
  readonly note?: string | undefined;
  /** What the row adds to the running total of a long table. */
  readonly adds?: Decimal | undefined;
}

export interface Table {
  readonly block: 'table';
  readonly caption: string;
  readonly columns: readonly Column[];
  readonly rows: readonly Row[];
  /** A long table is cut, and its total carried: what those rows are called, and how money is written. */
  readonly carry?:
    | { readonly forward: string; readonly brought: string; readonly money: (value: Decimal) => string }
    | undefined;
}

export interface Picture {
  /** Undefined when it could not be shown; `missing` says so. */
  readonly image?: Image | undefined;
  readonly missing?: string | undefined;
  readonly alt: string;
  readonly caption: string;
}

export interface Image {
  readonly mime: 'image/png' | 'image/jpeg';
  readonly bytes: Uint8Array;
  readonly width: number;
  readonly height: number;
}

/** A drawing in SVG, and the same in words. */
export interface Drawing {
  readonly svg: string;
  readonly text: string;
}

export interface Finding {
  readonly block: 'finding';
  readonly id: string;
  readonly number: number;
  readonly title: string;
  readonly verdict: string;
  readonly pictures: readonly Picture[];
  readonly drawing?: Drawing | undefined;
  readonly say?: string | undefined;
  readonly facts: readonly Fact[];
  /** Where the recorded video shows it; `play`: the same up to the next mark, where there is such a file. */
  readonly video?:
    | { readonly href: string; readonly label: string; readonly play: string | undefined }
    | undefined;
}

export interface Chain {
  readonly block: 'chain';
  readonly steps: readonly Fact[];
}

/** Things to compare, side by side. */
export interface Cards {
  readonly block: 'cards';
  readonly cards: readonly Card[];
}

export interface Card {
  readonly id: string;
  readonly title: string;
  /** Said above the title: that it was chosen. */
  readonly mark?: string | undefined;
  readonly figure: string;
  readonly figureLabel: string;
  readonly text?: string | undefined;
  readonly facts: readonly Fact[];
  readonly link?: { readonly href: string; readonly label: string } | undefined;
}

export interface Chart {
  readonly block: 'chart';
  readonly drawing: Drawing;
  /** The same figures to read. */
  readonly table: Table;
}

/** What the owner can answer; the page lets them pick, paper and text list the same answers. */
export interface Choose {
  readonly block: 'choose';
  readonly intro: string;
  readonly choices: readonly Choice[];
  readonly words: {
    readonly option: string;
    readonly extras: string;
    readonly total: string;
    readonly name: string;
    readonly answer: string;
    readonly copy: string;
    readonly copied: string;
    readonly list: string;
    readonly none: string;
  };
}

export interface Choice {
  readonly option: string;
  readonly name: string;
  readonly extras: readonly { readonly name: string; readonly note: string }[];
  /** By bits of the extras that are left out; all of them are there. */
  readonly variants: readonly { readonly total: string; readonly effect: string; readonly answer: string }[];
  readonly picked: boolean;
}

/** Work in order, with boxes to tick and lines to fill in. */
export interface Steps {
  readonly block: 'steps';
  readonly steps: readonly Step[];
}

export interface Step {
  readonly title: string;
  readonly aside: string;
  readonly facts: readonly Fact[];
  /** To be filled in by hand: what, and what it has to hold. */
  readonly fields: readonly {
    readonly label: string;
    readonly limit: string;
    readonly filled?: string | undefined;
  }[];
  readonly cautions: readonly { readonly text: string; readonly authority: string }[];
}

export const section = (
  id: string,
  title: string,
  blocks: readonly (Block | undefined)[],
): Section | undefined => {
  const there = blocks.filter((block) => block !== undefined);
  return there.length > 0 ? { block: 'section', id, title, blocks: there } : undefined;
};

export const text = (
  words: string | undefined,
  as: Text['as'] = 'plain',
  label?: string,
): Text | undefined =>
  words === undefined || words === '' ? undefined : { block: 'text', as, text: words.trim(), label };

export const list = (items: readonly string[]): List | undefined =>
  items.length > 0 ? { block: 'list', items } : undefined;

export const facts = (rows: readonly (readonly [string, string | undefined])[]): readonly Fact[] =>
  rows.flatMap(([label, value]) => (value === undefined || value === '' ? [] : [{ label, value }]));

export const present = (blocks: readonly (Block | undefined)[]): readonly Block[] =>
  blocks.filter((block) => block !== undefined);
