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
  let upright: Picture;
  try {
    upright = await northUp(picture.value, reading);
  } catch (error) {
    if (!(error instanceof ReadingStopped)) throw error;
    return problem('stopped', 'Reading was stopped.', 'Open the file again when you want it.');
  }
  const { name, width, height, pixels, notes } = upright;
  return ok({
    record: { name, width, height, notes, ...placed(upright, opened.crs) },
    pixels,
  });
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

/** The plane that the photo lies in, and its place there. */
function placed(
  { name, width, height, affine }: Picture,
  crs: HorizontalCrs,
): Omit<PhotoRecord, 'id' | 'name' | 'width' | 'height' | 'notes'> {
  const { toLngLat } = openCrs(crs);
  const at = (column: number, row: number) => toLngLat(...affinePoint(affine, column, row));
  const middle = at(width / 2, height / 2);
  const east = distanceAndBearing(middle, at(width / 2 + 1, height / 2)).distanceMeters;
  const south = distanceAndBearing(middle, at(width / 2, height / 2 + 1)).distanceMeters;
  const metersPerUnitEast = east / affine.a;
  const metersPerUnitNorth = south / -affine.e;
  const bounds = affineBounds(affine, width, height);
  const corners = [at(0, 0), at(width, 0), at(0, height), at(width, height)];
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
