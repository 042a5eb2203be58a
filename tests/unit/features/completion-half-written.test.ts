import { describe, expect, it } from 'vitest';
import type { Position } from '../../../server/src/syntax/lines.ts';
import { BOOK } from './completion-book.ts';
import { applied, type Shown, shownAt } from './completion-shown.ts';
import { fixture } from './fixture.ts';

/** Typed from top to bottom. What stands between « and » has to be on offer before its last letter is typed. */
const JOB = `# a job as it is typed
«kind»: «job»
«id»: J-7
«opened»: «2026-03-04»
«customer»: «oakes»
«vehicle»:
  «vin»: 1M8GDM9AXKP042788
  «year»: «1989»
  «drive»: «4wd»
  «odometer»: 84310 «mi»
  «features»: [skid-plate]
«unit»: «birch-6»
«complaint»: |
  Slips when warm: second to third.
  part: this is text
«findings»:
  «coolant-in-fluid»: «yes»
  «pan-debris»: "«flakes»"

  # measured cold
  «slip»:
    «value»: 90 «rpm»
    «at»: { «fluid-temperature»: 100 «F» }
    «pictures»:
      - «picture»: pan.jpg
        «say»: What lay in the pan
«reuse»: [«torque-converter»]
«cause»:
  «what»: Coolant in the fluid
  «finding»: «coolant-in-fluid»
  «outside»: «yes»
«lines»:
  - «operation»: «rr-unit»
    «adders»: [«rust»]
    «reason»: Rust everywhere
  - «part»: «TC-B»
    «quantity»: 1
    «for»: «coolant-in-fluid»
    «core»: «exchanged»
  - «fill»: «dry»
    «part»: «FL-1»
    «plus»: [«converter», «cooler-and-lines»]
    «loss»: 1 «qt»
  - { «fee»: «waste», «quantity»: 1 }
  - «other»: Tow
    «category»: «fees»
    «price»: 80.00
«options»:
  overhaul:
    «name»: Overhaul
    «kind»: «overhaul»
    «warranty»: «plan-12»
    «lines»:
      - «template»: «coolant-work»
        «with»:
          «converter»: «TC-B»
          «cleaning»: «flush»
      - «sublet»: Radiator
        «supplier»: «northfen»
        «labor-cost»: 40.00
«chosen»: «overhaul»
«waivers»:
  - «role»: «torque-converter»
    «reason»: Owner's wish
    «by»: W. Oakes
    «on»: «2026-03-05»
«payers»:
  - «payer»: «fleet-a»
    «covers»: [«labor», «parts»]
«discounts»:
  - «returning»
«records»:
  - «record»: «flush-sheet»
    «forward»: 30 «s»
    «result»: «pass»
«authorizations»:
  - «on»: 2026-03-04T10:20
    «by»: W. Oakes
    «how»: «telephone»
    «amount»: 100.00
    «option»: «overhaul»
«note»: done
`;

interface Wanted {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

function script(marked: string): { text: string; wanted: Wanted[] } {
  const wanted: Wanted[] = [];
  let text = '';
  let start = 0;
  for (const ch of marked) {
    if (ch === '«') start = text.length;
    else if (ch === '»') wanted.push({ start, end: text.length, text: text.slice(start) });
    else text += ch;
  }
  return { text, wanted };
}

function positionAt(text: string, offset: number): Position {
  const lines = text.slice(0, offset).split('\n');
  return { line: lines.length - 1, character: lines.at(-1)!.length };
}

/** Whether accepting something that is offered would write the word where it is meant to stand. */
function offers(shown: Shown, typed: string, word: Wanted): boolean {
  return shown.list.items.some((item) => {
    const text = applied(typed, item);
    return text.slice(word.start, word.end) === word.text && !/[\w-]/.test(text[word.end] ?? '');
  });
}

describe('a job typed letter by letter', () => {
  it.each([
    ['with line feeds', '\n'],
    ['with carriage returns', '\r\n'],
  ])('offers every name and word before it is there, %s', (_, eol) => {
    const { text, wanted } = script(JOB);
    const at = fixture(`${BOOK.trimEnd()}\n  === j.job.yaml\n`, { eol });
    const uri = 'file:///shop/j.job.yaml';
    const missed: string[] = [];
    for (const word of wanted) {
      for (const length of new Set([word.start, word.start + 1, word.end - 1])) {
        const typed = text.slice(0, length).replaceAll('\n', eol);
        at.book.put(uri, typed);
        const here = { ...at, file: at.book.file(uri)!, position: positionAt(text, length) };
        const moved = typed.length - length;
        const target = { ...word, start: word.start + moved, end: word.end + moved };
        if (!offers(shownAt(here, here.position), typed, target)) {
          missed.push(`${word.text} after ${JSON.stringify(text.slice(0, length).split('\n').at(-1))}`);
        }
      }
    }
    expect(missed).toEqual([]);
  });

  it('offers what was cut out of the middle of the finished job', () => {
    const { text, wanted } = script(JOB);
    const at = fixture(`${BOOK.trimEnd()}\n  === j.job.yaml\n`);
    const missed: string[] = [];
    for (const word of wanted) {
      for (const length of new Set([word.start, word.start + 1])) {
        const cut = text.slice(0, length) + text.slice(word.end);
        at.book.put('file:///shop/j.job.yaml', cut);
        const here = { ...at, file: at.book.file('file:///shop/j.job.yaml')! };
        const { list } = shownAt(here, positionAt(text, length));
        if (!list.items.some((item) => applied(cut, item) === text)) {
          missed.push(
            `${word.text} in ${JSON.stringify(`${cut.slice(0, length).split('\n').at(-1)}|${cut.slice(length).split('\n')[0]}`)}`,
          );
        }
      }
    }
    expect(missed).toEqual([]);
  });

  it('never fails, wherever the text ends', () => {
    const { text } = script(JOB);
    const at = fixture(`${BOOK.trimEnd()}\n  === j.job.yaml\n`);
    for (let length = 0; length <= text.length; length++) {
      at.book.put('file:///shop/j.job.yaml', text.slice(0, length));
      const file = at.book.file('file:///shop/j.job.yaml')!;
      const { list } = shownAt({ ...at, file }, positionAt(text, length));
      for (const item of list.items) applied(text.slice(0, length), item);
    }
  });
});
