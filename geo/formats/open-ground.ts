import type { Problem } from '../result.ts';
import type { ByteSource } from './byte-source.ts';
import type { BlockDecoder } from './geotiff/decode-block.ts';
import { readRasterHeader, type RasterHeader } from './geotiff/raster-header.ts';
import { asciiTile, placeFromText, tiffTile, type GroundTile } from './ground-tile.ts';
import { openPointFiles } from './open-points.ts';
import { openTiles } from './open-tiles.ts';
import {
  refused,
  type EncodedPhoto,
  type GroundChoices,
  type OpenedGround,
  type Reading,
} from './opening.ts';
import { ReadingStopped } from './run-work.ts';
import { groupFiles, type FileSet } from './sidecars.ts';
import { sniffFile, type FileKind } from './sniff.ts';
import { systemOf } from './stated-place.ts';
import type { HorizontalCrs } from '../frame/crs-types.ts';

export interface OpenGroundOptions extends Reading {
  /** Who unpacks GeoTIFF blocks; this thread where not given. */
  readonly decoder?: BlockDecoder;
}

/** An aerial photo, its place known, its pixels not yet read. */
export type OpenedPhoto =
  | {
      readonly stored: 'geotiff';
      readonly source: ByteSource;
      readonly header: RasterHeader;
      readonly crs: HorizontalCrs;
    }
  | { readonly stored: 'encoded'; readonly photo: EncodedPhoto; readonly crs: HorizontalCrs };

export type Opening = OpenedGround | { readonly kind: 'photo'; readonly photo: OpenedPhoto };

/** A photo larger than this is not decoded in a browser tab. */
const LARGEST_ENCODED = 512 * 1024 * 1024;
const STOPPED: Problem = {
  code: 'stopped',
  what: 'Reading was stopped.',
  wayOut: 'Open the file again when you want it.',
};

/**
 * The one door for ground and photos: files of any kind that is read (GeoTIFF, ESRI ASCII grid,
 * tables of points, JPEG and PNG with a world file) with their sidecars, told apart by content.
 * Several files are tiles of one survey. What the files do not say is asked, one question at a time:
 * call again with the answer among `choices`. Nothing half-read comes back.
 * Throws only for programmer errors.
 */
export async function openGround(
  sources: readonly ByteSource[],
  choices: GroundChoices = {},
  options: OpenGroundOptions = {},
): Promise<Opening> {
  try {
    return await open(sources.map(guarded), choices, options);
  } catch (error) {
    if (error instanceof ReadingStopped) return refused(STOPPED);
    if (error instanceof SourceFailed) return refused(error.problem);
    throw error;
  }
}

async function open(
  sources: readonly ByteSource[],
  choices: GroundChoices,
  options: OpenGroundOptions,
): Promise<Opening> {
  const sets = await groupFiles(sources);
  if (sets.length === 0) {
    return refused({
      code: 'files-none',
      what: 'There is no ground among these files, only files that belong beside one.',
      wayOut: 'Open the GeoTIFF, ASCII grid or table of points together with them.',
    });
  }
  const twice = sets.find((set, i) => set.main.name === sets[i - 1]?.main.name);
  if (twice) {
    return refused({
      code: 'files-same-name',
      what: 'Two of the files have the same name.',
      wayOut: 'Rename one of them, then open them together again.',
      where: twice.main.name,
    });
  }
  const kinds: FileKind[] = [];
  for (const set of sets) {
    const sniffed = await sniffFile(set.main);
    if ('problem' in sniffed) return refused(sniffed.problem);
    kinds.push(sniffed.kind);
  }
  if (new Set(kinds).size > 1) return mixed();
  const kind = kinds[0]!;
  if (kind === 'points') return openPointFiles(sets, choices, options);
  if (kind === 'jpeg' || kind === 'png') return openEncoded(sets, kind, choices);
  const tiles: GroundTile[] = [];
  for (const set of sets) {
    if (kind === 'ascii-grid') {
      const tile = await asciiTile(set);
      if (!tile.ok) return refused(tile.problem);
      tiles.push(tile.value);
      continue;
    }
    const header = await readRasterHeader(set.main, { affine: set.affine });
    if (!header.ok) return refused(header.problem);
    const tile = tiffTile(set, header.value, options.decoder);
    if (header.value.purpose === 'elevation') tiles.push(tile);
    else if (sets.length > 1) return mixed();
    else return photoOf(set.main, header.value, tile, choices);
  }
  return openTiles(tiles, choices, options);
}

function photoOf(
  source: ByteSource,
  header: RasterHeader,
  tile: GroundTile,
  choices: GroundChoices,
): Opening {
  const crs = systemOf(tile, choices);
  if ('kind' in crs) return crs;
  return { kind: 'photo', photo: { stored: 'geotiff', source, header, crs: crs.value } };
}

async function openEncoded(
  sets: readonly FileSet[],
  kind: 'jpeg' | 'png',
  choices: GroundChoices,
): Promise<Opening> {
  if (sets.length > 1) return mixed();
  const [{ main, affine, crsText }] = sets as [FileSet];
  if (!affine) {
    return refused({
      code: 'photo-no-world-file',
      what: 'The picture does not say where on the map it lies.',
      wayOut: `Open it together with its world file (${kind === 'jpeg' ? '.jgw' : '.pgw'}), or save it as a GeoTIFF.`,
      where: main.name,
    });
  }
  if (main.size > LARGEST_ENCODED) {
    return refused({
      code: 'photo-too-large',
      what: 'The picture is too large to open whole.',
      wayOut: 'Save it as a GeoTIFF with overviews, or cut it to your ground.',
      where: main.name,
    });
  }
  const crs = systemOf({ name: main.name, ...placeFromText(crsText) }, choices);
  if ('kind' in crs) return crs;
  const bytes = await main.read(0, main.size);
  const mime = kind === 'jpeg' ? 'image/jpeg' : 'image/png';
  const photo = { name: main.name, mime, bytes, affine } as const;
  return { kind: 'photo', photo: { stored: 'encoded', photo, crs: crs.value } };
}

function mixed(): Opening {
  return refused({
    code: 'files-mixed',
    what: 'These files are not tiles of one survey: they are of different kinds, or several photos.',
    wayOut: 'Open grounds and photos one after the other.',
  });
}

class SourceFailed extends Error {
  readonly problem: Problem;
  constructor(source: ByteSource, error: unknown) {
    const why = error instanceof Error ? error.message : String(error);
    super(why);
    this.problem = {
      code: 'source-read-failed',
      what: `The file could not be read (${why}).`,
      wayOut: 'Check that the file or address can still be reached, then open it again.',
      where: source.name,
    };
  }
}

/** A read that fails is the user's to know, not ours to throw. */
function guarded(source: ByteSource): ByteSource {
  return {
    name: source.name,
    size: source.size,
    read: async (offset, length) => {
      try {
        return await source.read(offset, length);
      } catch (error) {
        throw new SourceFailed(source, error);
      }
    },
  };
}
