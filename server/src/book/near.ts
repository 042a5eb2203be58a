/** The ids nearest to a word as typed, quick among a hundred thousand. */
import { slipsAllowed, slipsBetween } from '../../../schemas/values/words.ts';

/**
 * Ids by length and by the letters they hold: an id that differs in more letters than slips could change need not
 * be compared. What comes out depends on the ids alone, not on the order they came in.
 */
export class NearIds {
  /** By length, then by letters. */
  readonly #ids = new Map<number, Map<number, Set<string>>>();

  add(id: string): void {
    let byLetters = this.#ids.get(id.length);
    if (!byLetters) {
      byLetters = new Map();
      this.#ids.set(id.length, byLetters);
    }
    const letters = lettersOf(id.toLowerCase());
    const ids = byLetters.get(letters);
    if (ids) ids.add(id);
    else byLetters.set(letters, new Set([id]));
  }

  delete(id: string): void {
    this.#ids.get(id.length)?.get(lettersOf(id.toLowerCase()))?.delete(id);
  }

  /**
   * The ids that are fewest slips away, the first by alphabet before others. Farther ones are not looked for: beside a
   * near one they are noise, and looking wide is what takes time.
   */
  nearest(word: string, most: number): { id: string; slips: number }[] {
    const typed = word.trim().toLowerCase();
    const letters = lettersOf(typed);
    const allowed = typed === '' ? 0 : slipsAllowed(typed.length);
    for (let slips = 1; slips <= allowed; slips++) {
      const found = [...this.#within(typed, letters, slips)];
      if (found.length > 0) return found.sort(byNearness).slice(0, most);
    }
    return [];
  }

  *#within(typed: string, letters: number, slips: number) {
    for (let length = typed.length - slips; length <= typed.length + slips; length++) {
      for (const [held, ids] of this.#ids.get(length) ?? []) {
        // A slip takes one letter away, brings one in, or both.
        if (ones(held ^ letters) > 2 * slips) continue;
        for (const id of ids) {
          const off = slipsBetween(typed, id.toLowerCase());
          if (off <= slips) yield { id, slips: off };
        }
      }
    }
  }
}

/** Whether an id is near enough to a word to be suggested for it. */
export function isNear(word: string, id: string): boolean {
  const typed = word.trim().toLowerCase();
  const allowed = slipsAllowed(typed.length);
  return Math.abs(typed.length - id.length) <= allowed && slipsBetween(typed, id.toLowerCase()) <= allowed;
}

export function byNearness(a: { id: string; slips: number }, b: { id: string; slips: number }): number {
  return a.slips - b.slips || (a.id < b.id ? -1 : a.id > b.id ? 1 : 0);
}

/** One bit for each letter or digit; all others share what is left. */
function lettersOf(text: string): number {
  let bits = 0;
  for (let i = 0; i < text.length; i++) bits |= 1 << (text.charCodeAt(i) % 31);
  return bits;
}

function ones(bits: number): number {
  let n = bits - ((bits >>> 1) & 0x55555555);
  n = (n & 0x33333333) + ((n >>> 2) & 0x33333333);
  return (((n + (n >>> 4)) & 0x0f0f0f0f) * 0x01010101) >>> 24;
}
