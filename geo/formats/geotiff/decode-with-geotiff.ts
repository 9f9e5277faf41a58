import { getDecoder } from 'geotiff';
import type { BlockParams } from './decode-block.ts';
import { jpegFrame } from './jpeg-stream.ts';
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

/** Compares the size that the picture claims with the block's. */
function checkJpegSize(bytes: Uint8Array, params: BlockParams): void {
  const { width, height, samples } = jpegFrame(bytes);
  if (width !== params.width || height > params.rows || samples !== params.samples) {
    throw new Error(`JPEG block of ${width} × ${height} × ${samples}`);
  }
}
