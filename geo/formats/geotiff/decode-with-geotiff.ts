import { getDecoder } from 'geotiff';
import type { BlockParams } from './decode-block.ts';
import { COMPRESSION } from './tiff-tags.ts';

/**
 * JPEG and ZSTD blocks through the geotiff package's decoders; loaded only when a file needs them.
 * The JPEG decoder takes memory by what the picture claims, so the claim is checked first.
 *
 * @throws Error (rejects) where the block is damaged
 */
export async function decodeWithGeotiff(
  bytes: Uint8Array<ArrayBuffer>,
  params: BlockParams,
): Promise<Uint8Array<ArrayBuffer>> {
  if (params.compression === COMPRESSION.Jpeg) checkJpegSize(bytes, params);
  const decoder = await getDecoder(params.compression, {
    tileWidth: params.width,
    tileHeight: params.rows,
    predictor: 1,
    bitsPerSample: params.bits,
    planarConfiguration: 1,
    ...(params.jpegTables ? { JPEGTables: params.jpegTables } : {}),
  });
  const own =
    bytes.byteOffset === 0 && bytes.byteLength === bytes.buffer.byteLength ? bytes : bytes.slice();
  const unpacked = (await decoder.decodeBlock(own.buffer)) as ArrayBuffer;
  return new Uint8Array(unpacked);
}

/** Finds the frame header (ITU T.81 B.2.2) and compares its size with the block's. */
function checkJpegSize(bytes: Uint8Array, params: BlockParams): void {
  let at = 2;
  while (at + 9 < bytes.length) {
    if (bytes[at] !== 0xff) throw new Error('JPEG marker missing');
    const marker = bytes[at + 1];
    if (marker === 0xff) {
      at++;
      continue;
    }
    const isFrame = marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker);
    if (isFrame) {
      const rows = (bytes[at + 5] << 8) | bytes[at + 6];
      const columns = (bytes[at + 7] << 8) | bytes[at + 8];
      const samples = bytes[at + 9];
      if (columns !== params.width || rows > params.rows || samples !== params.samples) {
        throw new Error(`JPEG block of ${columns} × ${rows} × ${samples}`);
      }
      return;
    }
    const length = (bytes[at + 2] << 8) | bytes[at + 3];
    if (length < 2) throw new Error('JPEG segment of no length');
    at += 2 + length;
  }
  throw new Error('JPEG block without a frame');
}
