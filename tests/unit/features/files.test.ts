import { describe, expect, it } from 'vitest';
import { fileRenames } from '../../../server/src/features/file-renames.ts';
import { links, resolveLink } from '../../../server/src/features/links.ts';
import { fixture, uriOf as uri } from './fixture.ts';

const BOOK = `
  === shop.yaml
  kind: shop
  === north/shop.yaml
  kind: shop
  extends: ../shop.yaml
  === north/s.parts.yaml
  kind: parts
  from: { file: "spring list.csv", columns: { number: No }, kind: soft }
  === north/spring list.csv
  No
  G-1
  === j.job.yaml
  kind: job
  findings:
    leak:
      value: yes
      pictures:
        - picture: pictures/leak 🔧.jpg
        - picture: /etc/passwd
        - picture: ../outside.jpg
        - picture: '$x'
`;

describe('links', () => {
  it('shows paths inside the book and opens them when asked', () => {
    const f = fixture(BOOK);
    const shown = (name: string) =>
      links(f.book, f.named(name)).map((link) => [
        f.show([{ uri: f.named(name).uri, range: link.range }])[0],
        resolveLink(link).target,
        resolveLink(link).tooltip,
      ]);
    expect(shown('j.job.yaml')).toEqual([
      ['j.job.yaml:6:       - picture: [pictures/leak 🔧.jpg]', uri('pictures/leak 🔧.jpg'), 'Open: Picture'],
      ["j.job.yaml:9:       - picture: '[$x]'", uri('$x'), 'Open: Picture'],
    ]);
    expect(shown('north/shop.yaml')).toEqual([
      ['north/shop.yaml:2: extends: [../shop.yaml]', uri('shop.yaml'), 'Open: Extends'],
    ]);
    expect(shown('north/s.parts.yaml')).toEqual([
      [
        'north/s.parts.yaml:2: from: { file: "[spring list.csv]", columns: { number: No }, kind: soft }',
        uri('north/spring list.csv'),
        'Open: File',
      ],
    ]);
    expect(shown('shop.yaml')).toEqual([]);
  });
});

describe('renaming files', () => {
  const moved = (...moves: [string, string][]) => {
    const f = fixture(BOOK);
    return f.changes(
      fileRenames(
        f.book,
        moves.map(([from, to]) => ({ oldUri: uri(from), newUri: uri(to) })),
      ),
    );
  };

  it('changes the paths that lead to a file', () => {
    expect(moved(['north/spring list.csv', 'lists/spring #2.csv'])).toEqual([
      'north/s.parts.yaml',
      '- from: { file: "spring list.csv", columns: { number: No }, kind: soft }',
      '+ from: { file: "../lists/spring #2.csv", columns: { number: No }, kind: soft }',
    ]);
    expect(moved(['shop.yaml', 'common/shop.yaml'])).toEqual([
      'north/shop.yaml',
      '- extends: ../shop.yaml',
      '+ extends: ../common/shop.yaml',
    ]);
  });

  it('changes the paths inside a file that moves', () => {
    expect(moved(['j.job.yaml', 'jobs/2026/j.job.yaml'])).toEqual([
      'j.job.yaml',
      '-       - picture: pictures/leak 🔧.jpg',
      '+       - picture: ../../pictures/leak 🔧.jpg',
      '-       - picture: ../outside.jpg',
      '+       - picture: ../../../outside.jpg',
      "-       - picture: '$x'",
      "+       - picture: '../../$x'",
    ]);
  });

  it('leaves alone what moves together', () => {
    expect(moved(['north', 'south'])).toEqual([]);
    expect(moved(['north', 'branches/north'])).toEqual([
      'north/shop.yaml',
      '- extends: ../shop.yaml',
      '+ extends: ../../shop.yaml',
    ]);
    expect(moved(['elsewhere.csv', 'other.csv'])).toEqual([]);
  });
});
