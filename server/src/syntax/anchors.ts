import { Lexer } from 'yaml';

/** Places where YAML could take `&` or `*` as a mark: at the start of a line or after `- `, `: `, `[`, `{`, `,`. */
const CANDIDATE = /(?:^|[\r\n]|[-?:,[{])[ \t]*[&*][^\s,[\]{}]/;

/** Whether a text marks a value with `&name` or repeats one with `*name`. Notes with *stars* and "R&D" do not. */
export function usesAnchors(text: string): boolean {
  if (!text.includes('&') && !text.includes('*')) return false;
  if (!CANDIDATE.test(text)) return false;
  let scalar = false;
  for (const lexeme of new Lexer().lex(text)) {
    if (scalar) scalar = false;
    else if (lexeme === SCALAR_NEXT) scalar = true;
    else if (lexeme[0] === '&' || lexeme[0] === '*') return true;
  }
  return false;
}

/** The package's sign that the next lexeme is the text of a value. */
const SCALAR_NEXT = '\u001f';
