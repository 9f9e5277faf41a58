import { createDecodePool } from '../../../../app/workers/decode-pool.ts';
import { readElevation } from '../../../../geo/formats/geotiff/read-elevation.ts';
import { readRasterHeader } from '../../../../geo/formats/geotiff/raster-header.ts';

export interface ReadTimes {
  readonly milliseconds: number;
  readonly cells: number;
  /** Sum of every 997th height, so that the bench can see that the same numbers came. */
  readonly sum: number;
  readonly lanes: number;
  readonly problem: string | null;
}

const pool = createDecodePool();

globalThis.onmessage = async ({ data: file }: MessageEvent<File>) => {
  const source = {
    name: file.name,
    size: file.size,
    read: async (offset: number, length: number) =>
      new Uint8Array(await file.slice(offset, offset + length).arrayBuffer()),
  };
  const start = performance.now();
  const header = await readRasterHeader(source);
  const raw = header.ok ? await readElevation(source, header.value, { decoder: pool }) : header;
  const milliseconds = performance.now() - start;
  const data = raw.ok ? raw.value.data : new Float32Array(0);
  let sum = 0;
  for (let i = 0; i < data.length; i += 997) sum += data[i]!;
  const times: ReadTimes = {
    milliseconds,
    cells: data.length,
    sum,
    lanes: pool.lanes,
    problem: raw.ok ? null : raw.problem.what,
  };
  postMessage(times);
};
