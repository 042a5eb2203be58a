/** The maps and lists that are open while half-written lines are read, by their columns. */

/** A map or list as far as it is written. */
export interface Frame {
  readonly type: 'map' | 'list';
  readonly flow: boolean;
  /** Of its names or dashes. For brackets: of the block around them. */
  column: number;
  /** Names with the single text after them, if there is one. The name at the cursor is left out. */
  readonly pairs: Map<string, string | undefined>;
  /** Single texts of a list; undefined for items that are more than that. */
  readonly items: (string | undefined)[];
  /** The name or position that is being read. */
  step: string | number;
  /** Nothing is written yet where its value goes. */
  pending: boolean;
  /** The cursor's place, when it is where that value goes. */
  slot: FrameSlot | undefined;
}

export interface FrameSlot {
  inner: Frame | undefined;
}

export function frame(type: Frame['type'], column: number, step: string | number = '', flow = false): Frame {
  return { type, flow, column, step, pairs: new Map(), items: [], pending: false, slot: undefined };
}

/** The name at the cursor is not among the names that are given, and has no text for anyone to read. */
export function setText(holder: Frame, text: string): void {
  if (holder.type === 'list') holder.items[Number(holder.step)] = text;
  else if (holder.pairs.has(String(holder.step))) holder.pairs.set(String(holder.step), text);
}

/** Outermost first; never empty. */
export class Frames {
  readonly stack: Frame[];

  constructor(around: readonly Frame[]) {
    this.stack = [...around];
  }

  get top(): Frame {
    return this.stack.at(-1)!;
  }

  /** Pops what has ended before this column. False when the line does not fit in. */
  open(column: number, dash: boolean): boolean {
    let popped: Frame | undefined;
    for (; this.stack.length > 1; popped = this.stack.pop()) {
      const top = this.top;
      if (top.flow || top.column > column) continue;
      if (top.column < column) break;
      if (dash ? top.type === 'list' || top.pending : top.type === 'map') break;
    }
    const top = this.top;
    if (dash ? top.type === 'list' && top.column === column : top.type === 'map' && top.column === column) {
      if (dash) this.#nextItem(top);
      return true;
    }
    if (top.pending) {
      if (dash) this.#nextItem(this.#push('list', column));
      return true;
    }
    // Set in less than the names above it, but still deeper than what they belong to.
    if (popped && !popped.flow && column > top.column && (popped.type === 'list') === dash) {
      popped.column = column;
      this.stack.push(popped);
      if (dash) this.#nextItem(popped);
      return true;
    }
    if (!dash && this.stack.length === 1 && top.pairs.size === 0) {
      top.column = column;
      return true;
    }
    return false;
  }

  #nextItem(list: Frame): void {
    list.items.push(undefined);
    list.step = list.items.length - 1;
    list.pending = true;
    list.slot = undefined;
  }

  #push(type: Frame['type'], column: number): Frame {
    const above = this.top;
    const inner = frame(type, column);
    above.pending = false;
    if (above.slot && type === 'map') above.slot.inner = inner;
    this.stack.push(inner);
    return inner;
  }

  /** The map that a name at this column belongs to. */
  mapAt(column: number): Frame {
    const top = this.top;
    return top.type === 'map' && top.column === column && !top.flow ? top : this.#push('map', column);
  }
}
