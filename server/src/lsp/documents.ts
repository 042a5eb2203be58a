/** The documents that the client has open: their versions, and how it spells their URIs. */
import type { TextDocumentContentChangeEvent } from 'vscode-languageserver';
import { canonical } from '../book/paths.ts';
import type { TextChange } from '../syntax/file.ts';

interface OpenDocument {
  /** As the client spells it. */
  readonly uri: string;
  readonly version: number;
}

export class Documents {
  readonly #open = new Map<string, OpenDocument>();

  /** Opened, or changed to another version. */
  set(uri: string, version: number): void {
    const at = canonical(uri);
    this.#open.set(at, { uri: this.#open.get(at)?.uri ?? uri, version });
  }

  close(uri: string): void {
    this.#open.delete(canonical(uri));
  }

  has(uri: string): boolean {
    return this.#open.has(canonical(uri));
  }

  /** In the spelling that books know. */
  uris(): IterableIterator<string> {
    return this.#open.keys();
  }

  /** A URI as the client spells it. */
  spelled(uri: string): string {
    return this.#open.get(canonical(uri))?.uri ?? uri;
  }

  /** Whether the client spells one of them in a way of its own. */
  get spellsOtherwise(): boolean {
    for (const [at, { uri }] of this.#open) if (at !== uri) return true;
    return false;
  }

  /** Null for a document that is not open. */
  versionOf(uri: string): number | null {
    return this.#open.get(canonical(uri))?.version ?? null;
  }
}

/** Runs of changes with a range, and whole new texts between them. */
export function grouped(changes: readonly TextDocumentContentChangeEvent[]): (TextChange[] | string)[] {
  const groups: (TextChange[] | string)[] = [];
  for (const change of changes) {
    const last = groups.at(-1);
    if (!('range' in change)) groups.push(change.text);
    else if (Array.isArray(last)) last.push({ range: change.range, text: change.text });
    else groups.push([{ range: change.range, text: change.text }]);
  }
  return groups;
}
