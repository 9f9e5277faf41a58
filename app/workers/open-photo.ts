import type { HorizontalCrs } from '../../geo/frame/crs-types.ts';
import { distanceAndBearing } from '../../geo/frame/geodesic.ts';
import { openCrs } from '../../geo/frame/open-frame.ts';
import type { BlockDecoder } from '../../geo/formats/geotiff/decode-block.ts';
import { readPhoto } from '../../geo/formats/geotiff/read-photo.ts';
import type { OpenedPhoto } from '../../geo/formats/open-ground.ts';
import type { Reading } from '../../geo/formats/opening.ts';
import { ReadingStopped, runWork } from '../../geo/formats/run-work.ts';
import { affineBounds, affinePoint, isNorthUp, type Affine } from '../../geo/raster/affine.ts';
import { turnPhoto } from '../../geo/raster/turn-photo.ts';
import type { PhotoRecord } from '../../geo/raster/photo-record.ts';
import { ok, problem, type Result } from '../../geo/result.ts';

/** Pixels of a JPEG or PNG that are held at once: 144 MB of RGBA. */
const mostPixels = 36_000_000;

interface Picture {
  readonly name: string;
  readonly width: number;
  readonly height: number;
  readonly pixels: Uint8ClampedArray;
  readonly affine: Affine;
  readonly notes: readonly string[];
}

export interface ReadPhoto {
  readonly record: Omit<PhotoRecord, 'id'>;
  readonly pixels: Uint8ClampedArray;
}

/** Reads the pixels of a photo that `openGround` found, and where they lie. */
export async function openPhoto(
  opened: OpenedPhoto,
  reading: Reading & { readonly decoder: BlockDecoder },
): Promise<Result<ReadPhoto>> {
  const picture =
    opened.stored === 'geotiff' ? await fromTiff(opened, reading) : await fromEncoded(opened);
  if (!picture.ok) return picture;
  // Before it is turned, too: turning a picture without end takes memory without end.
  if (!placed(picture.value, opened.crs)) return nowhere(picture.value, opened.crs);
  let upright: Picture;
  try {
    upright = await northUp(picture.value, reading);
  } catch (error) {
    if (!(error instanceof ReadingStopped)) throw error;
    return problem('stopped', 'Reading was stopped.', 'Open the file again when you want it.');
  }
  const { name, width, height, pixels, notes } = upright;
  const place = placed(upright, opened.crs);
  if (!place) return nowhere(upright, opened.crs);
  return ok({ record: { name, width, height, notes, ...place }, pixels });
}

function nowhere({ name }: Picture, crs: HorizontalCrs): Result<never> {
  return problem(
    'placement-impossible',
    `The coordinates of the photo have no place on the earth in ${crs.name}.`,
    'Choose the coordinate system that the photo was delivered in, or open another copy.',
    name,
  );
}

/** A drone's photo may lie askew in its coordinate system; what is kept runs north. */
async function northUp(picture: Picture, reading: Reading): Promise<Picture> {
  if (isNorthUp(picture.affine)) return picture;
  const turned = await runWork(turnPhoto(picture, mostPixels), reading);
  const note = 'It lay askew in its coordinate system and was turned north-up.';
  return { ...picture, ...turned, notes: [...picture.notes, note] };
}

async function fromTiff(
  { source, header }: Extract<OpenedPhoto, { stored: 'geotiff' }>,
  reading: Reading & { readonly decoder: BlockDecoder },
): Promise<Result<Picture>> {
  const read = await readPhoto(source, header, reading);
  if (!read.ok) return read;
  const { width, height, pixels, affine, reduction } = read.value;
  const coarser = `It is shown ${reduction} times coarser than the file: it is too large to hold whole.`;
  const notes = reduction > 1 ? [coarser] : [];
  return ok({ name: source.name, width, height, pixels, affine, notes });
}

async function fromEncoded({
  photo,
}: Extract<OpenedPhoto, { stored: 'encoded' }>): Promise<Result<Picture>> {
  const { name, bytes, mime, affine } = photo;
  try {
    const bitmap = await createImageBitmap(
      new Blob([bytes as Uint8Array<ArrayBuffer>], { type: mime }),
    );
    const { width, height } = bitmap;
    if (width * height > mostPixels) {
      return problem(
        'photo-too-large',
        `The photo has more than ${mostPixels / 1e6} million pixels.`,
        'Cut it to your ground, or save it as a GeoTIFF with overviews.',
        name,
      );
    }
    // Read back at once: kept off the graphics card, which would only slow it down.
    const canvas = new OffscreenCanvas(width, height).getContext('2d', {
      willReadFrequently: true,
    })!;
    canvas.drawImage(bitmap, 0, 0);
    bitmap.close();
    const { data } = canvas.getImageData(0, 0, width, height);
    return ok({ name, width, height, pixels: data, affine, notes: [] });
  } catch {
    return problem(
      'photo-damaged',
      'The picture could not be read: it is damaged or of a kind this browser does not know.',
      'Export it again as JPEG, PNG or GeoTIFF.',
      name,
    );
  }
}

type Place = Omit<PhotoRecord, 'id' | 'name' | 'width' | 'height' | 'notes'>;

/** The plane that the photo lies in, and its place there; null where that is not on the earth. */
function placed({ name, width, height, affine }: Picture, crs: HorizontalCrs): Place | null {
  const at = lngLats(affine, width, height, crs);
  if (!at) return null;
  const [middle, nextEast, nextSouth, ...corners] = at;
  const east = distanceAndBearing(middle!, nextEast!).distanceMeters;
  const south = distanceAndBearing(middle!, nextSouth!).distanceMeters;
  if (!(east > 0 && south > 0)) return null;
  const metersPerUnitEast = east / affine.a;
  const metersPerUnitNorth = south / -affine.e;
  const bounds = affineBounds(affine, width, height);
  const lngs = corners.map((c) => c[0]);
  const lats = corners.map((c) => c[1]);
  return {
    plane: { proj: crs.proj, metersPerUnitEast, metersPerUnitNorth },
    west: bounds.west * metersPerUnitEast,
    north: bounds.north * metersPerUnitNorth,
    cellWidth: east,
    cellHeight: south,
    bounds: [Math.min(...lngs), Math.min(...lats), Math.max(...lngs), Math.max(...lats)],
    cellMeters: Math.sqrt(east * south),
    sourceFiles: [name],
  };
}

/** The middle, the same one pixel east and one south, and the corners; null where one is nowhere. */
function lngLats(
  affine: Affine,
  width: number,
  height: number,
  crs: HorizontalCrs,
): [number, number][] | null {
  const { toLngLat } = openCrs(crs);
  const [column, row] = [width / 2, height / 2];
  const pixels = [
    [column, row],
    [column + 1, row],
    [column, row + 1],
    [0, 0],
    [width, 0],
    [0, height],
    [width, height],
  ] as const;
  try {
    const points = pixels.map(([x, y]) => toLngLat(...affinePoint(affine, x, y)));
    return points.every(([, lat]) => Math.abs(lat) <= 90) ? points : null;
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}
