/**
 * Pictures for a page: small enough to travel by mail, upright, and without what a telephone writes into them (place,
 * owner). A file that is no picture, or far too large, gives none.
 */
import { imageSize } from 'image-size';
import type { Image } from './doc.ts';

/** Widest and highest, in pixels; sharp at three inches on paper. */
const MOST_SIDE = 960;
/** A drawing or a screenshot so small goes in as it is. */
const SMALL_BYTES = 160_000;
/** Above this many pixels a picture is not unpacked: it would need more memory than a paper is worth. */
const MOST_PIXELS = 80_000_000;
const MOST_BYTES = 60_000_000;
const READABLE: ReadonlySet<string> = new Set(['png', 'jpg', 'bmp', 'gif', 'tiff']);

export async function imageOf(bytes: Uint8Array): Promise<Image | undefined> {
  const told = measure(bytes);
  if (!told || !READABLE.has(told.type) || told.width * told.height > MOST_PIXELS) return undefined;
  const fits = told.width <= MOST_SIDE && told.height <= MOST_SIDE;
  if (told.type === 'png' && fits && bytes.length <= SMALL_BYTES && isBare(bytes))
    return isWhole(bytes) ? { mime: 'image/png', bytes, width: told.width, height: told.height } : undefined;
  // Only where a picture has to be unpacked: it is the largest thing here.
  const { shrunk } = await import('./shrink.ts');
  const made = await shrunk(bytes, MOST_SIDE);
  return made && { mime: 'image/jpeg', ...made };
}

function measure(bytes: Uint8Array): { type: string; width: number; height: number } | undefined {
  if (bytes.length === 0 || bytes.length > MOST_BYTES) return undefined;
  try {
    const { type, width, height } = imageSize(bytes);
    return type && width > 0 && height > 0 ? { type, width, height } : undefined;
  } catch {
    return undefined;
  }
}

/** A PNG up to its end. */
function isWhole(bytes: Uint8Array): boolean {
  return new TextDecoder('latin1').decode(bytes.subarray(-8, -4)) === 'IEND';
}

/** A PNG without words or camera data in it. */
function isBare(bytes: Uint8Array): boolean {
  const head = new TextDecoder('latin1').decode(bytes);
  return !/(?:tEXt|zTXt|iTXt|eXIf)/.test(head);
}
