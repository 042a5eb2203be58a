/** What a book asks of the world outside: bytes of files that are not YAML, and whether a file is there. */
export interface Host {
  /** Undefined when it cannot be read, or when it is a link that leads out of the folder `within`. */
  read(uri: string, within: string): Uint8Array | undefined;
  /** Size in bytes; undefined when it is not there, not a file, or a link that leads out of the folder `within`. */
  size(uri: string, within: string): number | undefined;
  /** Names of what lies in a folder, folders with a slash at their end; so that they can be offered. Hosts may go without. */
  list?(folder: string, within: string): readonly string[];
}

/** A world without files, for books that are only in memory. */
export const NO_HOST: Host = { read: () => undefined, size: () => undefined };
