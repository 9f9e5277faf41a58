import type { GroundInUse } from '../../geo/answers/definition.ts';
import { openFrame } from '../../geo/frame/open-frame.ts';
import type { ByteSource } from '../../geo/formats/byte-source.ts';
import type { GroundRecord } from '../../geo/raster/ground-record.ts';
import type { PhotoRecord } from '../../geo/raster/photo-record.ts';
import { ok, type Problem, type Result } from '../../geo/result.ts';
import { contentHash, RasterStore } from '../document/raster-store.ts';
import { createDecodePool, type DecodePool } from './decode-pool.ts';
import type { GroundChoices, GroundOpening } from './messages.ts';
import type { Asking } from './serve-door.ts';
import { breathe } from './slices.ts';

/** Below this, starting decode workers takes longer than they save. */
const smallFile = 6_000_000;

export interface PhotoInUse {
  readonly record: PhotoRecord;
  readonly pixels: Uint8ClampedArray;
}

/**
 * Opens grounds and photos from files and from this browser's storage. What was opened last is
 * remembered, so that taking it into use does not read it back.
 */
export class GroundShop {
  readonly #rasters = new RasterStore(globalThis.indexedDB, () => Date.now());
  #pool: DecodePool | null = null;
  #lastGround: GroundInUse | null = null;
  #lastSurface: GroundInUse | null = null;
  #lastPhoto: PhotoInUse | null = null;
  readonly #onNotKept: (problem: Problem) => void;

  constructor(onNotKept: (problem: Problem) => void) {
    this.#onNotKept = onNotKept;
  }

  async open(
    sources: readonly ByteSource[],
    choices: GroundChoices,
    asking: Asking,
  ): Promise<GroundOpening> {
    // Readers come in a chunk of their own: a plan that is only looked at never loads them.
    const [{ openGround }, { unzipTiles }, { openPhoto }, { decodeHere }, { withNativeJpeg }] =
      await Promise.all([
        import('../../geo/formats/open-ground.ts'),
        import('../../geo/formats/tile-zip.ts'),
        import('./open-photo.ts'),
        import('../../geo/formats/geotiff/decode-block.ts'),
        import('./decode-natively.ts'),
      ]);
    const size = sources.reduce((sum, source) => sum + source.size, 0);
    const reading = {
      decoder: withNativeJpeg(size < smallFile ? decodeHere : (this.#pool ??= createDecodePool())),
      shouldStop: asking.stopped,
      onProgress: async ({ share, doing }: { share: number; doing: string }) => {
        asking.progress(share, doing);
        await breathe();
      },
    };
    const unzipped = await unzipTiles(sources, reading);
    if (!unzipped.ok) return { kind: 'refused', problem: unzipped.problem };
    const opened = await openGround(unzipped.value, choices, reading);
    if (opened.kind === 'photo') {
      const photo = await openPhoto(opened.photo, reading);
      if (!photo.ok) return { kind: 'refused', problem: photo.problem };
      const { record, pixels } = photo.value;
      const id = await contentHash(pixels as Uint8ClampedArray<ArrayBuffer>);
      this.#lastPhoto = { record: { ...record, id }, pixels };
      const { width, height } = record;
      this.#keep(
        this.#rasters.put(
          pixels as Uint8ClampedArray<ArrayBuffer>,
          { kind: 'photo', format: 'rgba', width, height },
          id,
        ),
      );
      return { kind: 'photo', photo: this.#lastPhoto.record };
    }
    if (opened.kind !== 'opened') return opened;
    const { grid, draft } = opened;
    const data = grid.data as Float32Array<ArrayBuffer>;
    const record: GroundRecord = { ...draft, id: await contentHash(data) };
    this.#lastGround = { record, grid, frame: openFrame(grid.frame) };
    const { width, height } = grid;
    this.#keep(
      this.#rasters.put(data, { kind: 'ground', format: 'float32', width, height }, record.id),
    );
    return { kind: 'opened', ground: record };
  }

  /** A raster is shown at once and kept meanwhile; what cannot be kept is said. */
  #keep(putting: Promise<Result<string>>): void {
    void putting.then((kept) => {
      if (!kept.ok) this.#onNotKept(kept.problem);
    });
  }

  async ground(record: GroundRecord): Promise<Result<GroundInUse>> {
    const last = this.#lastGround;
    if (last?.record.id === record.id) {
      // The same numbers may have been opened at another place.
      const grid = { ...record.place, data: last.grid.data };
      this.#lastGround = { record, grid, frame: openFrame(grid.frame) };
      return ok(this.#lastGround);
    }
    const stored = await this.#rasters.get(record.id);
    if (!stored.ok) return stored;
    const grid = { ...record.place, data: new Float32Array(stored.value.bytes) };
    this.#lastGround = { record, grid, frame: openFrame(grid.frame) };
    return ok(this.#lastGround);
  }

  async surface(record: GroundRecord): Promise<Result<GroundInUse>> {
    if (this.#lastSurface?.record.id !== record.id) {
      const stored = await this.#rasters.get(record.id);
      if (!stored.ok) return stored;
      const grid = { ...record.place, data: new Float32Array(stored.value.bytes) };
      this.#lastSurface = { record, grid, frame: openFrame(grid.frame) };
    }
    this.#lastSurface = { ...this.#lastSurface, record };
    return ok(this.#lastSurface);
  }

  async photo(record: PhotoRecord): Promise<Result<PhotoInUse>> {
    if (this.#lastPhoto?.record.id === record.id) return ok(this.#lastPhoto);
    const stored = await this.#rasters.get(record.id);
    if (!stored.ok) return stored;
    this.#lastPhoto = { record, pixels: new Uint8ClampedArray(stored.value.bytes) };
    return ok(this.#lastPhoto);
  }
}
