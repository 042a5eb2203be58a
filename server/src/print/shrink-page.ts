/** Pictures unpacked and made smaller by the browser that the server runs in. */
import type { Shrunk } from './shrink.ts';

/** As a worker of a page has them; the rest of the server is compiled without the types of a page. */
declare const createImageBitmap: (
  source: Blob,
  options: { readonly imageOrientation: 'from-image' },
) => Promise<{ readonly width: number; readonly height: number }>;
declare const OffscreenCanvas: new (
  width: number,
  height: number,
) => {
  getContext(kind: '2d'): {
    fillStyle: string;
    fillRect(x: number, y: number, width: number, height: number): void;
    drawImage(image: object, x: number, y: number, width: number, height: number): void;
  } | null;
  convertToBlob(options: { readonly type: string; readonly quality: number }): Promise<Blob>;
};

export async function shrunk(bytes: Uint8Array, most: number): Promise<Shrunk | undefined> {
  const picture = await createImageBitmap(new Blob([new Uint8Array(bytes)]), {
    imageOrientation: 'from-image',
  }).catch(() => undefined);
  if (!picture) return undefined;
  const scale = Math.min(1, most / Math.max(picture.width, picture.height));
  const width = Math.max(1, Math.round(picture.width * scale));
  const height = Math.max(1, Math.round(picture.height * scale));
  const canvas = new OffscreenCanvas(width, height);
  const pen = canvas.getContext('2d');
  if (!pen) return undefined;
  pen.fillStyle = '#fff';
  pen.fillRect(0, 0, width, height);
  pen.drawImage(picture, 0, 0, width, height);
  const jpeg = await canvas.convertToBlob({ type: 'image/jpeg', quality: 0.82 });
  return { bytes: new Uint8Array(await jpeg.arrayBuffer()), width, height };
}
