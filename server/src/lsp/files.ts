/** Where the texts of a workspace come from: a disk that the server reads, or a client that reads for it. */
import type { Connection } from 'vscode-languageserver';
import type { Host } from '../book/host.ts';
import { canonical, isInside } from '../book/paths.ts';

export interface FolderTexts {
  /** YAML files by URI. */
  readonly texts: ReadonlyMap<string, string>;
  /** What could not be read, in words for the log. */
  readonly unread: readonly string[];
}

export interface Files {
  readonly host: Host;
  /** All YAML files below a folder. */
  folder(uri: string): Promise<FolderTexts>;
  /** Undefined when it is not there or not readable. `within`: the folder that a link may not lead out of. */
  text(uri: string, within: string | undefined): Promise<string | undefined>;
  /** Another file has changed or gone; what is known of it is asked for again. */
  changed(uri: string): Promise<void>;
  /** Runs work that reads pictures; it may run twice, where files have to be asked for first. */
  reading<T>(work: (read: Host['read']) => Promise<T>): Promise<T>;
  /** Finds out whether files are there that the texts name; true when something new was learned. */
  lookUp(uris: Iterable<string>): Promise<boolean>;
}

export const READ_FOLDER = 'gearquill/readFolder';
export const READ_FILE = 'gearquill/readFile';
export const SIZES = 'gearquill/sizes';
export const BYTES = 'gearquill/bytes';

const YAML = /\.ya?ml$/i;

/** Files that the client reads: in a browser, or in folders that are on no disk. */
export class ClientFiles implements Files {
  readonly host: Host;
  readonly #connection: Connection;
  /** Price files. */
  readonly #others = new Map<string, Uint8Array>();
  /** Sizes of pictures and videos; undefined when they are not there. */
  readonly #sizes = new Map<string, number | undefined>();

  constructor(connection: Connection) {
    this.#connection = connection;
    this.host = {
      read: (uri) => this.#others.get(uri),
      size: (uri) => this.#others.get(uri)?.length ?? this.#sizes.get(uri),
    };
  }

  async folder(uri: string): Promise<FolderTexts> {
    const { files } = await this.#connection.sendRequest<{ files: { uri: string; text: string }[] }>(
      READ_FOLDER,
      {
        uri,
      },
    );
    const texts = new Map<string, string>();
    for (const file of files) {
      if (YAML.test(file.uri)) texts.set(canonical(file.uri), file.text);
      else this.#keep(file.uri, file.text);
    }
    return { texts, unread: [] };
  }

  async text(uri: string): Promise<string | undefined> {
    const answer = await this.#connection.sendRequest<{ text?: string }>(READ_FILE, { uri });
    return answer.text;
  }

  async changed(uri: string): Promise<void> {
    const at = canonical(uri);
    this.#sizes.delete(at);
    if (!this.#others.has(at) && !/\.(csv|tsv|txt)$/i.test(at)) return;
    const text = await this.text(uri);
    if (text === undefined) this.#others.delete(at);
    else this.#keep(uri, text);
  }

  /** First to learn which files it reads, then with their bytes. */
  async reading<T>(work: (read: Host['read']) => Promise<T>): Promise<T> {
    const wanted = new Set<string>();
    const first = await work((uri, within) => {
      if (isInside(within, uri)) wanted.add(uri);
      return undefined;
    });
    if (wanted.size === 0) return first;
    const uris = [...wanted];
    const found = await this.#connection.sendRequest<(string | null)[]>(BYTES, { uris });
    const bytes = new Map(uris.map((uri, i) => [uri, found[i]]));
    return work((uri) => {
      const one = bytes.get(uri);
      return one ? Uint8Array.from(atob(one), (char) => char.charCodeAt(0)) : undefined;
    });
  }

  async lookUp(uris: Iterable<string>): Promise<boolean> {
    const unknown = [...new Set(uris)].filter((uri) => !this.#others.has(uri) && !this.#sizes.has(uri));
    if (unknown.length === 0) return false;
    const sizes = await this.#connection.sendRequest<(number | null)[]>(SIZES, { uris: unknown });
    for (const [i, uri] of unknown.entries()) this.#sizes.set(uri, sizes[i] ?? undefined);
    return true;
  }

  #keep(uri: string, text: string): void {
    this.#others.set(canonical(uri), new TextEncoder().encode(text));
  }
}
