/** Parts that look like one thing under two numbers. */
import type { Part } from '../../../../schemas/kinds/parts.ts';
import type { Book } from '../../book/book.ts';
import type { Definition } from '../../book/facts.ts';
import { type Finding, findingOn } from './finding.ts';

export function* lookAlikes(book: Book): Generator<Finding> {
  const byNumber = new Map<string, Definition>();
  const byLooks = new Map<string, Definition>();
  for (const definition of book.registry.all('part')) {
    const part = definition.value as Part | undefined;
    if (!part) continue;
    const supplier = part.supplier ?? String(definition.facts.file.value.supplier ?? '');
    const number = `${supplier}\n${bare(part['supplier-number'] ?? definition.id)}`;
    const looks = JSON.stringify([
      supplier,
      part.name.trim().toLowerCase(),
      part.kind,
      part.role,
      part.condition,
      part.fits,
      part.vehicles,
      part.holds,
      part.unit?.id,
    ]);
    const twin = byNumber.get(number);
    const alike = twin ?? byLooks.get(looks);
    if (alike && !areKin(alike, definition)) {
      const why = twin
        ? 'the same number of the same supplier, written otherwise'
        : 'the same name, kind and fit';
      yield findingOn('same-thing', definition, `like ${alike.id}: ${why}`);
    }
    if (!twin) byNumber.set(number, definition);
    if (!byLooks.has(looks)) byLooks.set(looks, definition);
  }
}

/** Without what people leave out or put in: `24-E7`, `24e7`, `24 E7`. */
function bare(number: string): string {
  return number.toUpperCase().replace(/[^\p{L}\p{N}]/gu, '');
}

/** One says of the other that it took its place, or serves as well. */
function areKin(one: Definition, other: Definition): boolean {
  return says(one, other.id) || says(other, one.id);
}

function says({ value }: Definition, id: string): boolean {
  const part = value as Part;
  return part['superseded-by']?.part === id || (part.alternates?.includes(id) ?? false);
}
