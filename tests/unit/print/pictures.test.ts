import { imageSize } from 'image-size';
import { Jimp, JimpMime } from 'jimp';
import { describe, expect, it } from 'vitest';
import { imageOf } from '../../../server/src/print/pictures.ts';
import { printJob } from '../../../server/src/print/print.ts';
import { pageOf, picture, sampleJob } from './paper.ts';

async function jpeg(width: number, height: number): Promise<Uint8Array> {
  return new Uint8Array(await new Jimp({ width, height, color: 0x336699ff }).getBuffer(JimpMime.jpeg));
}

/** A camera's note (Exif 2.3, tag 0x0112) that the picture lies on its side, and where it was taken. */
function lyingDown(bytes: Uint8Array): Uint8Array {
  const tiff = Buffer.from('49492a0008000000010012010300010000000600000000000000', 'hex');
  const body = Buffer.concat([Buffer.from('Exif\0\0'), tiff, Buffer.from('SECRET-PLACE')]);
  const length = Buffer.alloc(2);
  length.writeUInt16BE(body.length + 2);
  return new Uint8Array(
    Buffer.concat([bytes.subarray(0, 2), Buffer.from([0xff, 0xe1]), length, body, bytes.subarray(2)]),
  );
}

describe('a picture', () => {
  it('goes in as it is when it is small and says nothing but itself', async () => {
    const bytes = picture('plate-bare.png');
    expect(await imageOf(bytes)).toEqual({ mime: 'image/png', bytes, width: 640, height: 400 });
  });

  it('is scaled when it is large', async () => {
    const image = await imageOf(await jpeg(2400, 1600));
    expect([image?.width, image?.height]).toEqual([960, 640]);
    expect(imageSize(image!.bytes)).toMatchObject({ width: 960, height: 640, type: 'jpg' });
  });

  it('stands upright, and leaves behind what the camera noted', async () => {
    const image = await imageOf(lyingDown(await jpeg(60, 40)));
    expect([image?.width, image?.height]).toEqual([40, 60]);
    expect(Buffer.from(image!.bytes).includes('SECRET-PLACE')).toBe(false);
    expect(Buffer.from(image!.bytes).includes('Exif')).toBe(false);
  });

  it('is none when it is no picture, cut short, or would fill the memory', async () => {
    const png = picture('plate-bare.png');
    expect(await imageOf(new TextEncoder().encode('<svg onload="alert(1)"/>'))).toBeUndefined();
    expect(await imageOf(new Uint8Array())).toBeUndefined();
    expect(await imageOf(png.subarray(0, 4000))).toBeUndefined();
    const bomb = Buffer.from(png);
    bomb.writeUInt32BE(60_000, 16);
    bomb.writeUInt32BE(60_000, 20);
    expect(await imageOf(new Uint8Array(bomb))).toBeUndefined();
  });
});

it('a page says which picture could not be shown', async () => {
  const { source } = sampleJob('J-1076', (text) =>
    text.replace('pictures/fluid-milky.png', 'pictures/no-such-file.png'),
  );
  const page = pageOf((await printJob(source, 'customer', 'html')) as string);
  expect(page.querySelector('.missing')?.textContent).toBe(
    'The picture no-such-file.png could not be shown.',
  );
});
