import {
  bringIn,
  cleanFeature,
  type BringPick,
  type BroughtIn,
} from '../../geo/formats/vector/bring-in.ts';
import { drawingLook } from '../../geo/formats/vector/drawing-look.ts';
import { openVectors } from '../../geo/formats/vector/open-vector.ts';
import { outFromPlan } from '../../geo/formats/vector/out-feature.ts';
import { sayCleaning } from '../../geo/formats/vector/say-cleaning.ts';
import type {
  OpenedVectors,
  VectorChoices,
  VectorFeature,
} from '../../geo/formats/vector/vector-types.ts';
import { writeGeoJson } from '../../geo/formats/vector/write-geojson.ts';
import { writeGpx } from '../../geo/formats/vector/write-gpx.ts';
import { writeKml } from '../../geo/formats/vector/write-kml.ts';
import { writeShapefileZip } from '../../geo/formats/vector/write-shapefile.ts';
import type { Work } from '../../geo/work.ts';
import { blobSource } from './blob-source.ts';
import type { CleanedLook, DrawingOpening, DrawingOrder, Requests } from './messages.ts';
import type { Asking } from './serve-door.ts';
import { breathe } from './slices.ts';

/**
 * Drawings on their way in and out. The one that was read last stays here with all its positions:
 * the page gets a list and a thinned picture, and in the end the features that were chosen.
 */

let opened: OpenedVectors | null = null;

export async function openDrawings(
  files: readonly File[],
  choices: VectorChoices,
  asking: Asking,
): Promise<DrawingOpening> {
  const opening = await openVectors(files.map(blobSource), choices, {
    shouldStop: asking.stopped,
    onProgress: async ({ share, doing }) => {
      asking.progress(share, doing);
      await breathe();
    },
  });
  if (opening.kind !== 'opened') return opening;
  const look = await run(drawingLook(opening), asking);
  opened = opening;
  return { kind: 'opened', look };
}

/** Names of a group's features out of one column; what the column leaves empty is left out. */
export function namesFrom({
  file,
  layer,
  column,
}: Requests['namesFrom'][0]): Readonly<Record<number, string>> {
  const names: Record<number, string> = {};
  for (const feature of opened?.features ?? []) {
    if (feature.file !== file || feature.layer !== layer) continue;
    const value = feature.attributes[column];
    const text = value === undefined ? '' : String(value).replace(/\s+/g, ' ').trim();
    if (text !== '') names[feature.index] = text.slice(0, 190);
  }
  return names;
}

export async function cleanOne(
  { index, kind, clean }: Requests['cleanTrack'][0],
  asking: Asking,
): Promise<CleanedLook | null> {
  const feature = opened?.features[index];
  if (!feature) return null;
  const cleaned = await run(cleanFeature(feature, kind, clean), asking);
  if (!cleaned) return null;
  return {
    geometry: cleaned.geometry,
    areaSquareMeters: cleaned.area?.squareMeters ?? null,
    lengthMeters: cleaned.lengthMeters,
    said: [`${cleaned.before} points walked, ${cleaned.after} kept.`, ...sayCleaning(cleaned)],
  };
}

export async function bringInChosen(
  picks: readonly BringPick[],
  asking: Asking,
): Promise<BroughtIn> {
  const features: readonly VectorFeature[] = opened?.features ?? [];
  return run(
    bringIn(features, picks, () => crypto.randomUUID()),
    asking,
  );
}

/** The drawing that was read last is given up. */
export function leaveDrawings(): void {
  opened = null;
}

/** Features of the plan as one file. */
export function writeDrawings({ features, format, title, forOldReceivers }: DrawingOrder): Blob {
  const out = outFromPlan(features);
  switch (format) {
    case 'geojson':
      return new Blob([writeGeoJson(out)], { type: 'application/geo+json' });
    case 'kml':
      return new Blob([writeKml(out, title)], { type: 'application/vnd.google-earth.kml+xml' });
    case 'gpx': {
      const choices = forOldReceivers
        ? { mostNameLetters: 10, mostRoutePoints: 200 }
        : { mostNameLetters: null, mostRoutePoints: null };
      return new Blob([writeGpx(out, choices)], { type: 'application/gpx+xml' });
    }
    case 'shapefile': {
      const bytes = writeShapefileZip(out, title) as Uint8Array<ArrayBuffer>;
      return new Blob([bytes], { type: 'application/zip' });
    }
  }
}

/** Runs long work and lets messages in between its steps. Throws where the page stopped it. */
async function run<T>(work: Work<T>, asking: Asking): Promise<T> {
  let last = performance.now();
  for (;;) {
    const step = work.next();
    if (step.done) return step.value;
    if (performance.now() - last < 8) continue;
    asking.progress(step.value.share, step.value.doing);
    await breathe();
    if (asking.stopped()) throw new Error('The page no longer wants it.');
    last = performance.now();
  }
}
