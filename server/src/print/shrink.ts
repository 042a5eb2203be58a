/** Pictures unpacked and made smaller by a library that any machine runs. In a browser, `shrink-page.ts` stands in for this file. */
import { Jimp, JimpMime } from 'jimp';

export interface Shrunk {
  /** JPEG on white, upright. */
  readonly bytes: Uint8Array;
  readonly width: number;
  readonly height: number;
}

/** Undefined for what cannot be unpacked. `most`: pixels of the longer side. */
export async function shrunk(bytes: Uint8Array, most: number): Promise<Shrunk | undefined> {
  const picture = await Jimp.fromBuffer(Buffer.from(bytes)).catch(() => undefined);
  if (!picture) return undefined;
  if (picture.width > most || picture.height > most) picture.scaleToFit({ w: most, h: most });
  const { width, height } = picture;
  const flat = new Jimp({ width, height, color: 0xffffffff }).composite(picture);
  return { bytes: new Uint8Array(await flat.getBuffer(JimpMime.jpeg, { quality: 82 })), width, height };
}
