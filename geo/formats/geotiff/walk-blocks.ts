import type { ByteSource } from '../byte-source.ts';
import type { PixelWindow, Reading } from '../opening.ts';
import type { BlockDecoder, BlockParams } from './decode-block.ts';
import { damaged, readBytes, stopped, TiffError, truncated } from './tiff-error.ts';
import { COMPRESSION, PHOTOMETRIC, TAG } from './tiff-tags.ts';
import { tagNumbers, type TiffFile } from './tiff-directory.ts';
import type { TiffImage } from './tiff-image.ts';
import { withSlack } from './unpack-deflate.ts';

/** A block that was read: where its cells lie in the level, and its values. */
export interface ReadBlock {
  readonly band: number;
  readonly column: number;
  readonly row: number;
  /** Cells of it that lie inside the raster. */
  readonly width: number;
  readonly height: number;
  /** Null for a block that the file leaves out: no data, never zero. */
  readonly block: ArrayBuffer | null;
}

export interface BlockWalk {
  readonly source: ByteSource;
  readonly file: TiffFile;
  readonly image: TiffImage;
  /** Only the blocks that touch this part are read. */
  readonly window: PixelWindow;
  /** Bands wanted, where bands have blocks of their own. */
  readonly bands: readonly number[];
  /** Only blocks that hold a row `window.row + k·everyRow` are read; 1 reads all. */
  readonly everyRow: number;
  readonly decoder: BlockDecoder;
  readonly reading: Reading;
  readonly doing: string;
}

interface Wanted extends Omit<ReadBlock, 'block'> {
  /** Rows as stored: more than `height` in the last tile or strip. */
  readonly rows: number;
  readonly offset: number;
  readonly bytes: number;
}

const LARGEST_READ = 4 * 1024 * 1024;
const LARGEST_GAP = 64 * 1024;

/**
 * Reads and unpacks the blocks of a window, neighbours in the file in one read, and hands each to
 * `take` as it comes, in any order; its memory is used again afterwards. Every address is checked before the first byte is read. Throws
 * `TiffError`; after a failure or a stop nothing more is handed over.
 */
export async function walkBlocks(walk: BlockWalk, take: (block: ReadBlock) => void): Promise<void> {
  const wanted = await wantedBlocks(walk);
  const whole = wanted.length;
  let done = 0;
  let failure: unknown = null;
  const present: Wanted[] = [];
  for (const w of wanted) {
    if (w.bytes === 0 || w.offset === 0) {
      take({ ...w, block: null });
      done++;
    } else present.push(w);
  }
  present.sort((a, b) => a.offset - b.offset);

  const { compression } = walk.image;
  const isDeflate = compression === COMPRESSION.Deflate || compression === COMPRESSION.DeflateOld;
  const flying = new Set<Promise<void>>();
  const mostFlying = walk.decoder.lanes === 1 ? 1 : walk.decoder.lanes * 2;
  const send = (w: Wanted, bytes: Uint8Array<ArrayBuffer>) => {
    const job = walk.decoder
      .decode(bytes, blockParams(walk, w))
      .then(
        (block) => {
          if (failure === null) take({ ...w, block });
          walk.decoder.giveBack?.(block);
          done++;
        },
        (error) => {
          failure ??= new TiffError(
            'block-damaged',
            `The cells around column ${w.column}, row ${w.row} cannot be unpacked (${messageOf(error)}).`,
            'Copy or download the file again; if it still fails, save it again from the program that made it.',
          );
        },
      )
      .catch((error: unknown) => {
        failure ??= error;
      })
      .finally(() => flying.delete(job));
    flying.add(job);
  };

  try {
    const runs = [...runsOf(present)];
    let ahead = runs.length > 0 ? readRun(walk.source, runs[0]) : null;
    for (let i = 0; i < runs.length; i++) {
      if (walk.reading.shouldStop?.()) throw stopped();
      const run = runs[i];
      const start = run[0].offset;
      const bytes = await ahead!;
      // The next read is under way while these blocks are unpacked.
      ahead = i + 1 < runs.length ? readRun(walk.source, runs[i + 1]) : null;
      ahead?.catch(() => {});
      for (const w of run) {
        while (flying.size >= mostFlying) await Promise.race(flying);
        if (failure !== null) throw failure;
        if (walk.reading.shouldStop?.()) throw stopped();
        // A copy, because its memory may go to a worker and the run's must stay.
        const own = bytes.subarray(w.offset - start, w.offset - start + w.bytes);
        send(w, isDeflate ? withSlack(own) : own.slice());
        await walk.reading.onProgress?.({ share: done / whole, doing: walk.doing });
      }
    }
  } catch (error) {
    failure ??= error;
  }
  await Promise.all(flying);
  if (failure !== null) throw failure;
  await walk.reading.onProgress?.({ share: 1, doing: walk.doing });
}

function messageOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}

function blockParams(walk: BlockWalk, w: Wanted): BlockParams {
  const { image, file } = walk;
  return {
    compression: image.compression,
    predictor: image.predictor,
    bits: image.bits,
    littleEndian: file.littleEndian,
    width: image.blockWidth,
    rows: w.rows,
    rowsNeeded: w.height,
    samples: image.banded ? 1 : image.bands,
    jpegTables: image.jpegTables,
    jpegColours: image.photometric === PHOTOMETRIC.YCbCr ? 'ycbcr' : 'rgb',
  };
}

function readRun(source: ByteSource, run: readonly Wanted[]): Promise<Uint8Array> {
  const start = run[0].offset;
  const last = run[run.length - 1];
  return readBytes(source, start, last.offset + last.bytes - start);
}

/** Neighbours in the file that are worth one read. */
function* runsOf(blocks: readonly Wanted[]): Generator<Wanted[]> {
  let run: Wanted[] = [];
  let end = 0;
  for (const block of blocks) {
    const length = block.offset + block.bytes - (run[0]?.offset ?? 0);
    if (run.length > 0 && (block.offset - end > LARGEST_GAP || length > LARGEST_READ)) {
      yield run;
      run = [];
    }
    run.push(block);
    end = Math.max(end, block.offset + block.bytes);
  }
  if (run.length > 0) yield run;
}

async function wantedBlocks(walk: BlockWalk): Promise<Wanted[]> {
  const { image, window } = walk;
  const rows = blockRows(walk);
  const firstColumn = Math.floor(window.column / image.blockWidth);
  const lastColumn = Math.floor((window.column + window.width - 1) / image.blockWidth);
  const wanted: Wanted[] = [];
  if (rows.length === 0) return wanted;
  const perBand = image.tiled
    ? image.blocksAcross * image.blocksDown
    : image.blocksDown / image.partsPerStrip;
  const parts = image.partsPerStrip;
  for (const band of image.banded ? walk.bands : [0]) {
    const strip = (index: number) => (image.tiled ? index : Math.floor(index / parts));
    const across = image.blocksAcross;
    const first = band * perBand + strip(rows[0].index * across + firstColumn);
    const last = band * perBand + strip(rows[rows.length - 1].index * across + lastColumn);
    const table = await blockTable(walk, first, last - first + 1);
    for (const row of rows) {
      for (let column = firstColumn; column <= lastColumn; column++) {
        const at = band * perBand + strip(row.index * across + column) - first;
        const place = {
          band,
          column: column * image.blockWidth,
          row: row.top,
          width: Math.min(image.blockWidth, image.width - column * image.blockWidth),
          height: row.rows,
          rows: row.stored,
        };
        wanted.push({ ...place, ...bytesOf(walk, table, at, row) });
      }
    }
  }
  return wanted;
}

interface BlockRow {
  readonly index: number;
  readonly top: number;
  /** Rows inside the raster, and as stored. */
  readonly rows: number;
  readonly stored: number;
}

function blockRows({ image, window, everyRow }: BlockWalk): BlockRow[] {
  const rows: BlockRow[] = [];
  const windowEnd = window.row + window.height;
  for (let index = firstBlockRow(image, window.row); index < image.blocksDown; index++) {
    const top = blockTop(image, index);
    if (top >= windowEnd) break;
    const inStrip = image.tiled ? image.blockHeight : stripRows(image, index);
    const height = Math.min(inStrip, image.height - top);
    if (height <= 0 || top + height <= window.row) continue;
    const ahead = Math.max(0, Math.ceil((top - window.row) / everyRow)) * everyRow + window.row;
    if (ahead >= Math.min(top + height, windowEnd)) continue;
    rows.push({ index, top, rows: height, stored: inStrip });
  }
  return rows;
}

function firstBlockRow(image: TiffImage, row: number): number {
  if (image.tiled) return Math.floor(row / image.blockHeight);
  return Math.floor(row / image.rowsPerStrip) * image.partsPerStrip;
}

function blockTop(image: TiffImage, index: number): number {
  if (image.tiled) return index * image.blockHeight;
  const strip = Math.floor(index / image.partsPerStrip);
  return strip * image.rowsPerStrip + (index % image.partsPerStrip) * image.blockHeight;
}

/** Rows of a part of a strip: the last part may be shorter. */
function stripRows(image: TiffImage, index: number): number {
  const before = (index % image.partsPerStrip) * image.blockHeight;
  return Math.max(0, Math.min(image.blockHeight, image.rowsPerStrip - before));
}

interface BlockTable {
  readonly offsets: Float64Array;
  readonly counts: Float64Array | undefined;
}

async function blockTable(walk: BlockWalk, first: number, count: number): Promise<BlockTable> {
  const { file, image } = walk;
  const [offsetTag, countTag] = image.tiled
    ? [TAG.TileOffsets, TAG.TileByteCounts]
    : [TAG.StripOffsets, TAG.StripByteCounts];
  const offsets = await tagNumbers(file, image.directory, offsetTag, first, count);
  if (!offsets) throw damaged('The file does not say where its cells are stored.');
  const counts = await tagNumbers(file, image.directory, countTag, first, count);
  if (!counts && image.compression !== COMPRESSION.None) {
    throw damaged('The file does not say how long its blocks are.');
  }
  return { offsets, counts };
}

function bytesOf(
  walk: BlockWalk,
  table: BlockTable,
  at: number,
  row: BlockRow,
): { offset: number; bytes: number } {
  const { image, source } = walk;
  let offset = table.offsets[at];
  let bytes = table.counts?.[at] ?? Infinity;
  if (bytes === 0 || offset === 0) return { offset: 0, bytes: 0 };
  if (image.compression === COMPRESSION.None) {
    const samples = image.banded ? 1 : image.bands;
    const perRow = Math.ceil((image.blockWidth * samples * image.bits) / 8);
    const before = image.tiled ? 0 : (row.top % image.rowsPerStrip) * perRow;
    const needed = row.rows * perRow;
    if (bytes - before < needed) {
      throw damaged(`A block of ${bytes} bytes is too short for its ${row.rows} rows.`);
    }
    offset += before;
    bytes = Math.min(bytes - before, row.stored * perRow);
    if (offset + bytes > source.size) bytes = Math.min(bytes, needed);
  }
  if (!(offset + bytes <= source.size)) {
    throw truncated(
      `The file ends before its cells do: a block should reach byte ${offset + bytes}, the file has ${source.size}.`,
    );
  }
  return { offset, bytes };
}
