import { type CST, Lexer, Parser } from 'yaml';
import { type Finding, finding } from './finding.ts';
import { ALIAS_LIMIT, DEPTH_LIMIT } from './limits.ts';

/**
 * The `yaml` package's token trees of a text, or, when the text nests or repeats beyond our limits, the problem with all
 * that follows it to blank out. Watching the words as they come keeps hostile text from ever building such a tree:
 * the package's time and stack grow with the depth.
 */
export function tokens(text: string): CST.Token[] | Finding {
  const out: CST.Token[] = [];
  const parser = new Parser();
  const watch = new Watch();
  let offset = 0;
  for (const lexeme of new Lexer().lex(text)) {
    const code = watch.see(lexeme);
    if (code) return refusal(code, offset, text.length);
    if (lexeme !== SCALAR && lexeme !== DOCUMENT && lexeme !== FLOW_END) offset += lexeme.length;
    for (const token of parser.next(lexeme)) out.push(token);
  }
  for (const token of parser.end()) out.push(token);
  return out;
}

/** Signs of the package's lexer that are not part of the text. */
const DOCUMENT = '\u0002';
const FLOW_END = '\u0018';
const SCALAR = '\u001f';
/** Marks before one value: more than two are an error in any case. */
const MARKS = 8;

type Refused = 'yaml-too-deep' | 'yaml-anchor' | 'yaml-alias-limit';

class Watch {
  #brackets = 0;
  #onLine = 0;
  #marks = 0;
  #aliases = 0;
  #scalar = false;

  see(lexeme: string): Refused | undefined {
    if (this.#scalar) {
      this.#scalar = false;
      this.#marks = 0;
      return undefined;
    }
    switch (lexeme[0]) {
      case SCALAR:
        this.#scalar = true;
        return undefined;
      case ' ':
      case '\t':
        return undefined;
      case '\n':
      case '\r':
        this.#onLine = 0;
        return undefined;
      case FLOW_END:
        this.#brackets = 0;
        return undefined;
      case '[':
      case '{':
        this.#marks = 0;
        return ++this.#brackets > DEPTH_LIMIT ? 'yaml-too-deep' : undefined;
      case ']':
      case '}':
        if (this.#brackets > 0) this.#brackets--;
        return undefined;
      case '-':
      case '?':
      case ':':
        this.#marks = 0;
        return this.#brackets === 0 && ++this.#onLine > DEPTH_LIMIT ? 'yaml-too-deep' : undefined;
      case '&':
      case '!':
        return ++this.#marks > MARKS ? 'yaml-anchor' : undefined;
      case '*':
        return ++this.#aliases > ALIAS_LIMIT ? 'yaml-alias-limit' : undefined;
      default:
        return undefined;
    }
  }
}

const MESSAGES: Record<Refused, string> = {
  'yaml-too-deep': `This is more than ${DEPTH_LIMIT} levels deep. Reading stops here; groups and lists inside each other go ${DEPTH_LIMIT} levels deep at most.`,
  'yaml-anchor': 'There are too many marks before one value. Reading stops here; write one &name at most.',
  'yaml-alias-limit': `There are more than ${ALIAS_LIMIT.toLocaleString('en-US')} repeats with * up to here. Reading stops here; write some of them out.`,
};

function refusal(code: Refused, start: number, end: number): Finding {
  return finding(code, { start, end: start + 1 }, MESSAGES[code], { start, end });
}
