/** What a book asks of the world outside: bytes of files that are not YAML, and whether a file is there. */
export interface Host {
  /** Undefined when it cannot be read. */
  read(uri: string): Uint8Array | undefined;
  /** Size in bytes; undefined when it is not there, or not a file. */
  size(uri: string): number | undefined;
}

/** A world without files, for books that are only in memory. */
export const NO_HOST: Host = { read: () => undefined, size: () => undefined };
