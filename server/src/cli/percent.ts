/** How far long work is, on a terminal where someone sits and waits. */

/** Milliseconds before the first word, and between two. */
const QUIET = 1000;

/** Takes what part is done, from 0 to 1. Says nothing into a file or a pipe, and leaves nothing on the screen. */
export function percentOn(stream: NodeJS.WriteStream, now: () => number = Date.now): (part: number) => void {
  if (!stream.isTTY) return () => undefined;
  let said = now();
  let shown = false;
  return (part) => {
    if (part >= 1) {
      if (shown) stream.write('\r\u001b[K');
      shown = false;
    } else if (now() - said >= QUIET) {
      said = now();
      shown = true;
      stream.write(`\rChecking the shop book: ${Math.floor(part * 100)} %`);
    }
  };
}
