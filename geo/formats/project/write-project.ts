import type { PlanFeature } from '../../plan/feature.ts';
import type { RawPlan } from '../../plan/raw-plan.ts';
import { parseGroundRecord, parsePhotoRecord } from '../../raster/parse-records.ts';
import { ok, problem, type Problem, type Result } from '../../result.ts';
import { writeGeoTiff } from '../geotiff/write-geotiff.ts';
import { writePhoto } from '../geotiff/write-photo.ts';
import type { Reading } from '../opening.ts';
import { runWork } from '../run-work.ts';
import { ZipWriter } from '../zip/zip-writer.ts';
import { writeFeaturesCsv } from './features-csv.ts';
import { parseStored } from './parse-stored.ts';
import { missingPart } from './project-error.ts';
import { readMe } from './read-me.ts';
import { writePlanGeoJson } from './write-plan-geojson.ts';
import { writeSettingsJson } from './settings-json.ts';

export interface WriteProjectOptions extends Reading {
  /** The bytes of a ground (float32) or photo (RGBA) by id, as they are stored. */
  readonly raster: (id: string) => Promise<Result<ArrayBuffer>>;
  /** Takes the zip, piece after piece; awaited. */
  readonly put: (piece: Uint8Array) => void | Promise<void>;
}

/**
 * Writes a plan as one zip that any GIS reads after unzipping: `plan.geojson`, `settings.json`,
 * `tables/features.csv`, `rasters/NAME.tif` (float32 heights; RGBA photos) and a note on what is
 * what. One raster at a time is in memory. Same plan, same bytes. The value names what could not be
 * put in. Problem: past 4 GB.
 */
export async function writeProject(
  plan: RawPlan,
  options: WriteProjectOptions,
): Promise<Result<{ readonly missing: readonly Problem[] }>> {
  const zip = new ZipWriter();
  const missing: Problem[] = [];
  const files: Record<string, string> = {};
  const add = async (path: string, bytes: Uint8Array, pack: boolean) => {
    for (const piece of await runWork(zip.add(path, bytes, pack), options))
      await options.put(piece);
  };
  const text = (content: string) => new TextEncoder().encode(content);
  try {
    for (const kind of ['ground', 'photo'] as const) {
      const records = kind === 'ground' ? plan.grounds : plan.photos;
      for (const id of Object.keys(records).sort()) {
        const made = await rasterFile(kind, records[id], options);
        if (made.ok) {
          const { name, bytes } = made.value;
          files[id] = `rasters/${kind}-${slug(name)}-${id.slice(0, 8)}.tif`;
          await add(files[id], bytes, false);
        } else missing.push(made.problem);
      }
    }
    await add('plan.geojson', text(writePlanGeoJson(plan)), true);
    await add('settings.json', text(writeSettingsJson(plan, files)), true);
    await add('tables/features.csv', text(writeFeaturesCsv(shown(plan))), true);
    await add('read-me.txt', text(readMe), true);
    await options.put(zip.end());
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    return problem(
      'project-past-4gb',
      'The project with its grounds and photos would be larger than 4 GB.',
      'Take photos that are not needed out of the plan, and save again.',
    );
  }
  return ok({ missing });
}

async function rasterFile(
  kind: 'ground' | 'photo',
  value: unknown,
  options: WriteProjectOptions,
): Promise<Result<{ name: string; bytes: Uint8Array }>> {
  const record = kind === 'ground' ? parseGroundRecord(value) : parsePhotoRecord(value);
  if (!record.ok) return record;
  const { id, name } = record.value;
  const stored = await options.raster(id);
  if (!stored.ok) return { ok: false, problem: missingPart(name, 'is not in this copy.', id) };
  const bytes = stored.value;
  if ('place' in record.value) {
    const { place, vertical, surveyedOn } = record.value;
    const data = new Float32Array(bytes);
    if (data.length !== place.width * place.height) return notItself(name, id);
    const work = writeGeoTiff({ ...place, data }, { vertical: vertical.datum, surveyedOn });
    return ok({ name, bytes: await runWork(work, options) });
  }
  const { width, height } = record.value;
  if (bytes.byteLength !== 4 * width * height) return notItself(name, id);
  const work = writePhoto(record.value, new Uint8ClampedArray(bytes));
  return ok({ name, bytes: await runWork(work, options) });
}

function notItself(name: string, id: string): Result<never> {
  const why = 'is stored damaged on this computer, so it is not in this copy.';
  return { ok: false, problem: missingPart(name, why, id) };
}

/** The features that fit: what the tables are made of. */
function shown({ features }: RawPlan): PlanFeature[] {
  return Object.entries(features).flatMap(([id, value]) => {
    const parsed = parseStored('features', id, value);
    return parsed.ok ? [parsed.value as PlanFeature] : [];
  });
}

/** Letters that every file system takes. */
function slug(name: string): string {
  const plain = name
    .toLowerCase()
    .replace(/\.\w{2,4}$/, '')
    .replace(/[^a-z0-9]+/g, '-');
  return plain.replace(/^-|-$/g, '').slice(0, 60) || 'unnamed';
}
