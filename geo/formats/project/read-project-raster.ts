import { ok, type Problem, type Result } from '../../result.ts';
import type { BlockDecoder } from '../geotiff/decode-block.ts';
import { readRasterHeader } from '../geotiff/raster-header.ts';
import { readElevation } from '../geotiff/read-elevation.ts';
import { readPhoto } from '../geotiff/read-photo.ts';
import type { Reading } from '../opening.ts';
import { missingPart } from './project-error.ts';
import type { ProjectParts } from './project-parts.ts';
import type { ProjectRaster } from './read-project.ts';

/** Most bytes of one raster in a project file. */
const MOST_RASTER_BYTES = 1024 * 1024 * 1024;

/** Numbers of a ground or pixels (RGBA) of a photo, row-major, row 0 north, as they were saved. */
export type RasterNumbers = Float32Array<ArrayBuffer> | Uint8ClampedArray<ArrayBuffer>;

export interface RasterReading extends Reading {
  readonly decoder: BlockDecoder;
  /** SHA-256 in hex. */
  readonly hash: (bytes: RasterNumbers) => Promise<string>;
}

/**
 * Reads one raster of a project. It must be exactly the one that the plan was saved with, told by the
 * hash of its numbers: another under its name would give other answers under the same survey's date.
 * Whatever is wrong comes back as `project-raster-missing`, for the plan to go on without it.
 */
export async function readProjectRaster(
  parts: ProjectParts,
  raster: ProjectRaster,
  reading: RasterReading,
): Promise<Result<RasterNumbers>> {
  const { name, id } = raster.record;
  const miss = (why: string): Result<never> => ({ ok: false, problem: missingPart(name, why, id) });
  const because = ({ what }: Problem) => miss(`could not be read from the project file. ${what}`);
  const source = await parts.open(raster.path, MOST_RASTER_BYTES, reading);
  if (!source.ok) return because(source.problem);
  const header = await readRasterHeader(source.value);
  if (!header.ok) return because(header.problem);
  const { width, height } = raster.kind === 'ground' ? raster.record.place : raster.record;
  const changed = 'in the project file is not the one that the plan was saved with.';
  if (header.value.width !== width || header.value.height !== height) return miss(changed);
  const read =
    raster.kind === 'ground'
      ? await readElevation(source.value, header.value, reading)
      : await readPhoto(source.value, header.value, {
          ...reading,
          mostPixels: width * height,
          level: 0,
        });
  if (!read.ok) return because(read.problem);
  const numbers = 'data' in read.value ? read.value.data : read.value.pixels;
  if ((await reading.hash(numbers as RasterNumbers)) !== id) return miss(changed);
  return ok(numbers as RasterNumbers);
}
