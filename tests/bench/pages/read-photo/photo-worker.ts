import { withNativeJpeg } from '../../../../app/workers/decode-natively.ts';
import { createDecodePool } from '../../../../app/workers/decode-pool.ts';
import { decodeHere } from '../../../../geo/formats/geotiff/decode-block.ts';
import { readPhoto } from '../../../../geo/formats/geotiff/read-photo.ts';
import { readRasterHeader } from '../../../../geo/formats/geotiff/raster-header.ts';

export interface PhotoRead {
  readonly milliseconds: number;
  readonly width: number;
  readonly height: number;
  /** RGBA of a small picture; empty for a large one. */
  readonly pixels: readonly number[];
  readonly problem: string | null;
}

const pool = createDecodePool();
const small = 100_000;

globalThis.onmessage = async ({ data }: MessageEvent<{ file: File; natively: boolean }>) => {
  const { file, natively } = data;
  const source = {
    name: file.name,
    size: file.size,
    read: async (offset: number, length: number) =>
      new Uint8Array(await file.slice(offset, offset + length).arrayBuffer()),
  };
  const plain = file.size < small ? decodeHere : pool;
  const start = performance.now();
  const header = await readRasterHeader(source);
  const photo = header.ok
    ? await readPhoto(source, header.value, { decoder: natively ? withNativeJpeg(plain) : plain })
    : header;
  const milliseconds = performance.now() - start;
  const pixels = photo.ok ? photo.value.pixels : new Uint8ClampedArray(0);
  const answer: PhotoRead = {
    milliseconds,
    width: photo.ok ? photo.value.width : 0,
    height: photo.ok ? photo.value.height : 0,
    pixels: pixels.length <= 4 * small ? [...pixels] : [],
    problem: photo.ok ? null : photo.problem.what,
  };
  postMessage(answer);
};
