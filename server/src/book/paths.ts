/** Arithmetic on URIs of files; no file system is touched. */

/** The folder of a URI, with a slash at its end. */
export function folderOf(uri: string): string {
  return uri.slice(0, uri.lastIndexOf('/') + 1);
}

export function nameOf(uri: string): string {
  return decode(uri.slice(uri.lastIndexOf('/') + 1));
}

/**
 * A URI in the one spelling that a book knows: editors and the file system escape different characters, and what is
 * named in a file has to be found whoever opened it.
 */
export function canonical(uri: string): string {
  const scheme = SCHEME.exec(uri)?.[0] ?? '';
  return (
    scheme +
    uri
      .slice(scheme.length)
      .split('/')
      .map((segment) => encode(decode(segment)))
      .join('/')
  );
}

/** A relative path, as written in a file, as a URI. Undefined when it is not relative. */
export function resolve(from: string, path: string): string | undefined {
  if (/^([A-Za-z][A-Za-z0-9+.-]*:|[/\\])/.test(path)) return undefined;
  const scheme = SCHEME.exec(from)?.[0] ?? '';
  const segments = folderOf(from).slice(scheme.length).split('/').slice(1, -1);
  for (const segment of path.split(/[/\\]/)) {
    if (segment === '' || segment === '.') continue;
    if (segment === '..') {
      if (segments.length === 0) return undefined;
      segments.pop();
    } else segments.push(encode(segment));
  }
  return `${scheme}/${segments.join('/')}`;
}

/** How a file of a folder is named in a message. */
export function relative(folder: string, uri: string): string {
  return decode(uri.startsWith(folder) ? uri.slice(folder.length) : uri);
}

export function isInside(folder: string, uri: string): boolean {
  return uri.startsWith(folder);
}

/** The deepest folder that holds all of them. */
export function commonFolder(uris: readonly string[]): string {
  return uris.map(folderOf).reduce((common, folder) => {
    let shared = common;
    while (!folder.startsWith(shared)) shared = folderOf(shared.slice(0, -1));
    return shared;
  });
}

const SCHEME = /^[^:/]+:\/\/[^/]*/;

/** Half of a surrogate pair has no escape; it stands for no file either. */
function encode(segment: string): string {
  return encodeURIComponent(segment.toWellFormed());
}

function decode(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
}
