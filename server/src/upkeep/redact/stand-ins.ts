/**
 * Stand-ins for what tells of a person: as long as what they stand for, letters for letters, digits for digits, the rest
 * kept. The same text has the same stand-in wherever it is written, and no character is its own. They are drawn, not
 * computed from the text, so that nobody can try names until one fits.
 */
import { explainCheckDigit } from '../../../../schemas/values/vin.ts';

/** A whole number from 0 up to and without the one given. */
export type Pick = (below: number) => number;

const SMALL = 'abcdefghijklmnopqrstuvwxyz';
const SMALL_OTHER = 'àáâãäåæçèéêëìíîïñòóôõöøùúûüý';
const DIGITS = '0123456789';
/** Letters that a vehicle identification number may have (49 CFR 565.15). */
const VIN_LETTERS = 'abcdefghjklmnprstuvwxyz';
/** From here on a VIN tells the plant and the vehicle; what is before tells maker, model, engine and year. */
const VIN_SERIAL = 10;
const CHECK_DIGIT = 8;

export class StandIns {
  readonly #pick: Pick;
  readonly #known = new Map<string, string>();
  readonly #given = new Set<string>();

  constructor(pick: Pick) {
    this.#pick = pick;
  }

  /** For a value. */
  of(text: string): string {
    return this.#kept(text, () => this.mask(text));
  }

  /** A path that leads as far up, and has the same ending. */
  ofPath(path: string): string {
    const ending = /\.\w+$/.exec(path)?.[0] ?? '';
    const parts = path.slice(0, path.length - ending.length).split(/([/\\])/);
    return parts.map((part) => (/^(?:\.*|[/\\])$/.test(part) ? part : this.of(part))).join('') + ending;
  }

  /** A vehicle of the same maker, model and year, with a check digit that is right or wrong as it was. */
  ofVin(text: string): string {
    return this.#kept(text, () => {
      const typed = text.trim();
      const steps = explainCheckDigit(typed.toUpperCase());
      if (!steps) return this.mask(text, VIN_LETTERS);
      const right = steps.digit === typed[CHECK_DIGIT]!.toUpperCase();
      for (;;) {
        const vin = typed.slice(0, VIN_SERIAL) + this.mask(typed.slice(VIN_SERIAL), VIN_LETTERS);
        const { digit } = explainCheckDigit(vin.toUpperCase())!;
        const mended = right ? vin.slice(0, CHECK_DIGIT) + digit + vin.slice(CHECK_DIGIT + 1) : vin;
        if (right || digit !== typed[CHECK_DIGIT]!.toUpperCase()) return text.replace(typed, mended);
      }
    });
  }

  /** Each letter and digit by another one. `letters`: those that may be used, small; others stay. */
  mask(text: string, letters = SMALL): string {
    return text.replace(/[\p{L}\p{N}]/gu, (one) => {
      if (DIGITS.includes(one)) return this.#other(DIGITS, one);
      const small = one.toLowerCase();
      const other = SMALL.includes(small) ? letters : SMALL_OTHER;
      if (other === VIN_LETTERS && !other.includes(small)) return one;
      const drawn = this.#other(other, small).repeat(one.length);
      return one === small ? drawn : drawn.toUpperCase();
    });
  }

  /** Everything that a value has been given a stand-in for. */
  get all(): ReadonlyMap<string, string> {
    return this.#known;
  }

  #other(of: string, one: string): string {
    const at = of.indexOf(one);
    return at === -1 ? of[this.#pick(of.length)]! : of[(at + 1 + this.#pick(of.length - 1)) % of.length]!;
  }

  /** Two texts have two stand-ins, as far as there are so many of that length. */
  #kept(text: string, make: () => string): string {
    let standIn = this.#known.get(text);
    for (let tries = 0; standIn === undefined; tries++) {
      const drawn = make();
      if (!this.#given.has(drawn) || tries > 20) standIn = drawn;
    }
    this.#given.add(standIn);
    this.#known.set(text, standIn);
    return standIn;
  }
}
