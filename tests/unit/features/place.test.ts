import { describe, expect, it } from 'vitest';
import { placeAt } from '../../../server/src/features/place.ts';
import { fixture } from './fixture.ts';

/** `path  on  title-of-the-innermost-declaration  id under the cursor`, for each cursor of a book. */
function places(source: string, options?: { eol?: string }): string[] {
  return fixture(source, options).cursors.map(({ file, position }) => {
    const place = placeAt(file, position);
    const inner = place.levels.at(-1)!;
    const mark = place.mark ? ` ${place.mark.is} ${place.mark.kinds.join('|')} ${place.mark.id}` : '';
    return `/${inner.path.join('/')} ${place.on} "${inner.meta.title ?? ''}"${mark}`;
  });
}

describe('placeAt', () => {
  it('finds keys, values and ids of a catalog entry', () => {
    expect(
      places(`
        === a.parts.yaml
        kind: <|>parts
        parts:
          T<|>C-1:
            n<|>ame: Torque <|>converter
            role: torque-conv<|>erter
            fits: [birch-6, ce<|>dar-8]
            superseded-by: { part: T<|>C-2 }
      `),
    ).toEqual([
      '/kind value ""',
      '/parts/TC-1 key "" definition part TC-1',
      '/parts/TC-1/name key "Name"',
      '/parts/TC-1/name value "Name"',
      '/parts/TC-1/role value "Role" reference role torque-converter',
      '/parts/TC-1/fits/1 value "" reference unit cedar-8',
      '/parts/TC-1/superseded-by/part value "Part" reference part TC-2',
    ]);
  });

  it('gives an empty line to the names that stand left of it', () => {
    expect(
      places(`
        === a.parts.yaml
        kind: parts
        parts:
          TC-1:
            name: Converter
            <|>
          <|>
        <|>
        === b.job.yaml
        kind: job
        lines:
          - part: TC-1
            <|>
          <|>
        options:
          main:
            lines:
              -<|>
              - part: A
              - { part: <|> }
      `),
    ).toEqual([
      '/parts/TC-1 gap ""',
      '/parts gap "Parts"',
      '/ gap ""',
      '/lines/0 gap ""',
      '/lines gap "Lines"',
      '/options/main/lines/0 value ""',
      '/options/main/lines/2/part value "Part"',
    ]);
  });

  it('counts in UTF-16 units and knows every line end', () => {
    const source = `
      === a.parts.yaml
      kind: parts
      parts:
        "🔧-1":
          note: '🔧🔧 x<|>'
          role: 🔧ro<|>le
    `;
    const answer = ['/parts/🔧-1/note value "Note"', '/parts/🔧-1/role value "Role" reference role 🔧role'];
    expect(places(source)).toEqual(answer);
    expect(places(source, { eol: '\r\n' })).toEqual(answer);
    expect(places(source, { eol: '\r' })).toEqual(answer);
  });

  it('knows files that are read as one because they repeat values', () => {
    expect(
      places(`
        === a.parts.yaml
        kind: parts
        parts:
          A: &a
            role: pan-ga<|>sket
          <|>B: *a
      `),
    ).toEqual(['/parts/A/role value "Role" reference role pan-gasket', '/parts/B key "" definition part B']);
  });

  it('sees the line behind $parameters of a template', () => {
    expect(
      places(`
        === a.template.yaml
        kind: template
        id: t
        name: T
        parameters:
          fl<|>uid: { type: part }
        lines:
          - part: $flu<|>id
            quantity: 1<|>
      `),
    ).toEqual([
      '/parameters/fluid key "" definition parameter fluid',
      '/lines/0/part value "Part" reference parameter fluid',
      '/lines/0/quantity value "Quantity"',
    ]);
  });

  it('answers in a file whose kind is unknown', () => {
    expect(
      places(`
        === a.yaml
        kind: nonsense
        a:
          - b<|>
      `),
    ).toEqual(['/a/0 value ""']);
  });
});
