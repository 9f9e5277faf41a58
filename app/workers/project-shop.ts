import { decodeHere } from '../../geo/formats/geotiff/decode-block.ts';
import { openProjectZip } from '../../geo/formats/project/project-parts.ts';
import { readProjectRaster } from '../../geo/formats/project/read-project-raster.ts';
import { readProject } from '../../geo/formats/project/read-project.ts';
import { writeProject } from '../../geo/formats/project/write-project.ts';
import { ReadingStopped } from '../../geo/formats/run-work.ts';
import type { RawPlan } from '../../geo/plan/raw-plan.ts';
import { ok, type Problem } from '../../geo/result.ts';
import { contentHash, type RasterStore } from '../document/raster-store.ts';
import { blobSource } from './blob-source.ts';
import type { ProjectOpening, ProjectPacked } from './messages.ts';
import type { Asking } from './serve-door.ts';
import { breathe } from './slices.ts';

/** Project files in and out, beside the store that keeps the rasters. */

/** Pieces are gathered up to this much before they leave the heap for a blob. */
const gatherBytes = 16 * 1024 * 1024;

/** One zip of the plan and of every raster that it names; what is not stored here is told. */
export async function packProject(
  plan: RawPlan,
  store: RasterStore,
  asking: Asking,
): Promise<ProjectPacked> {
  let whole = new Blob([], { type: 'application/zip' });
  let gathered: Uint8Array[] = [];
  let bytes = 0;
  const flush = () => {
    whole = new Blob([whole, ...(gathered as Uint8Array<ArrayBuffer>[])], { type: whole.type });
    gathered = [];
    bytes = 0;
  };
  const written = await writeProject(plan, {
    ...readingFor(asking),
    async raster(id) {
      const stored = await store.get(id);
      return stored.ok ? ok(stored.value.bytes) : stored;
    },
    put(piece) {
      gathered.push(piece);
      bytes += piece.byteLength;
      if (bytes > gatherBytes) flush();
    },
  });
  if (!written.ok) return { kind: 'refused', problem: written.problem };
  flush();
  return { kind: 'packed', file: whole, missing: written.value.missing };
}

/**
 * Reads a project file and keeps its rasters in this browser. The plan comes back even where rasters
 * are missing, damaged, or find no room: each is told.
 */
export async function unpackProject(
  file: File,
  store: RasterStore,
  asking: Asking,
): Promise<ProjectOpening> {
  try {
    return await unpack(file, store, asking);
  } catch (error) {
    if (error instanceof ReadingStopped) return refused('stopped', 'Reading was stopped.');
    // A file that the system takes away while it is read rejects the slice.
    if (error instanceof DOMException) {
      return refused('source-read-failed', `The file could not be read (${error.message}).`);
    }
    throw error;
  }
}

async function unpack(file: File, store: RasterStore, asking: Asking): Promise<ProjectOpening> {
  const parts = await openProjectZip(blobSource(file));
  if (!parts.ok) return { kind: 'refused', problem: parts.problem };
  const read = await readProject(parts.value);
  if (!read.ok) return { kind: 'refused', problem: read.problem };
  const { plan, rasters, notes } = read.value;
  const missing: Problem[] = [...read.value.missing];
  for (const raster of rasters) {
    const { id } = raster.record;
    const has = await store.has(id);
    if (has.ok && has.value) continue;
    const reading = { ...readingFor(asking), decoder: decodeHere, hash: contentHash };
    const numbers = await readProjectRaster(parts.value, raster, reading);
    if (!numbers.ok) {
      missing.push(numbers.problem);
      continue;
    }
    const { width, height } = raster.kind === 'ground' ? raster.record.place : raster.record;
    const format = raster.kind === 'ground' ? 'float32' : 'rgba';
    const kept = await store.put(numbers.value, { kind: raster.kind, format, width, height }, id);
    if (!kept.ok) missing.push({ ...kept.problem, where: raster.record.name });
  }
  return { kind: 'opened', plan, missing, notes };
}

function readingFor(asking: Asking) {
  return {
    shouldStop: asking.stopped,
    onProgress: async ({ share, doing }: { share: number; doing: string }) => {
      asking.progress(share, doing);
      await breathe();
    },
  };
}

function refused(code: string, what: string): ProjectOpening {
  return {
    kind: 'refused',
    problem: { code, what, wayOut: 'Open the project again when you want it.' },
  };
}
