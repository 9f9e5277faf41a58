import { migratePlan, schemaVersion } from '../../plan/migrations/migrate.ts';
import { isObject, type RawMap, type RawPlan } from '../../plan/raw-plan.ts';
import { ok, type Problem, type Result } from '../../result.ts';
import { missingPart, notAProject } from './project-error.ts';
import type { ProjectParts } from './project-parts.ts';
import { recordFault, type RecordFound } from './record-fault.ts';
import { readPlanGeoJson } from './read-plan-geojson.ts';
import { readSettingsJson } from './settings-json.ts';
import { settlePlan, type SettledPlan } from './settle-plan.ts';

/** Most bytes of plan.geojson and of settings.json: a thousand times what a site plan takes. */
const MOST_TEXT_BYTES = 64 * 1024 * 1024;
const RASTER_PATH = /^rasters\/[A-Za-z0-9_][A-Za-z0-9_.-]{0,150}\.tif$/;

/** A ground or photo of a project, and the part that holds it. */
export type ProjectRaster = RecordFound & { readonly path: string };

export interface ReadProject {
  readonly plan: RawPlan;
  readonly rasters: readonly ProjectRaster[];
  /** Grounds and photos that the plan names and that are not in the file. */
  readonly missing: readonly Problem[];
  /** Plain sentences: what was brought up to date, held aside, left out. */
  readonly notes: readonly string[];
}

/**
 * Reads the plan of a project, brings an older one up to date and says which part holds which raster;
 * no raster is read yet. A missing raster, an unknown kind, a value out of range cost only
 * themselves. Nothing of the file's own paths is used but `rasters/NAME.tif`.
 * Problems: no project, not JSON, too large, a newer version.
 */
export async function readProject(parts: ProjectParts): Promise<Result<ReadProject>> {
  if (!parts.has('plan.geojson') || !parts.has('settings.json')) return notAProject(parts.name);
  const settingsText = await textOf(parts, 'settings.json');
  if (!settingsText.ok) return settingsText;
  const settings = readSettingsJson(settingsText.value);
  if (!settings.ok) return settings;
  const planText = await textOf(parts, 'plan.geojson');
  if (!planText.ok) return planText;
  const drawn = readPlanGeoJson(planText.value);
  if (!drawn.ok) return drawn;

  const { version, files, turnedRings } = settings.value;
  const drawnFeatures = turnBack(drawn.value.features, turnedRings);
  const features = { ...settings.value.plan.features, ...drawnFeatures };
  const raw = migratePlan({ ...settings.value.plan, features, extras: {} }, version);
  const { plan, heldAside, withExtras } = settlePlan(raw);
  const notes = [...parts.notes, ...drawn.value.notes];
  if (version < schemaVersion)
    notes.push(`The plan was of version ${version}: brought up to date.`);
  if (heldAside.length > 0) notes.push(heldAsideNote(heldAside.map((one) => one.problem)));
  if (withExtras > 0) {
    notes.push(
      `${count(withExtras, 'feature')} came with properties that are kept but not used here.`,
    );
  }
  const sorted = sortRasters(plan, heldAside, files, parts);
  return ok({ ...sorted, notes });
}

/** Which part holds which raster; records that cannot be used at all go out of the plan. */
function sortRasters(
  plan: RawPlan,
  heldAside: SettledPlan['heldAside'],
  files: RawMap,
  parts: ProjectParts,
): Omit<ReadProject, 'notes'> {
  const rasters: ProjectRaster[] = [];
  const missing: Problem[] = [];
  const maps = { grounds: { ...plan.grounds }, photos: { ...plan.photos } };
  const aside = new Set(heldAside.map((one) => one.key));
  for (const kind of ['ground', 'photo'] as const) {
    const map = kind === 'ground' ? maps.grounds : maps.photos;
    for (const [id, value] of Object.entries(map)) {
      if (aside.has(id)) continue;
      const found = { kind, record: value } as RecordFound;
      const { name } = found.record;
      const path = files[id];
      const fault = recordFault(found);
      if (fault) {
        missing.push(missingPart(name, fault, id));
        delete map[id];
      } else if (typeof path === 'string' && RASTER_PATH.test(path) && parts.has(path)) {
        rasters.push({ ...found, path });
      } else missing.push(missingPart(name, 'is not in this project file.', id));
    }
  }
  return { plan: { ...plan, ...maps }, rasters, missing };
}

/** Rings as the plan had them: a corner keeps its number, a hole its direction. */
function turnBack(features: RawMap, turned: RawMap): RawMap {
  const back = { ...features };
  for (const [id, indexes] of Object.entries(turned)) {
    const feature = Object.hasOwn(back, id) ? (back[id] as RawMap) : undefined;
    const geometry = feature?.geometry;
    if (!isObject(geometry) || geometry.type !== 'Polygon' || !Array.isArray(indexes)) continue;
    if (!Array.isArray(geometry.coordinates)) continue;
    const turnedHere = new Set<unknown>(indexes);
    const coordinates = geometry.coordinates.map((ring: unknown, i) =>
      Array.isArray(ring) && turnedHere.has(i) ? ring.toReversed() : ring,
    );
    back[id] = { ...feature, geometry: { ...geometry, coordinates } };
  }
  return back;
}

async function textOf(parts: ProjectParts, path: string): Promise<Result<string>> {
  const source = await parts.open(path, MOST_TEXT_BYTES);
  if (!source.ok) return source;
  const bytes = await source.value.read(0, source.value.size);
  return ok(new TextDecoder().decode(bytes));
}

function heldAsideNote(problems: readonly Problem[]): string {
  const [{ what, where }] = problems;
  const first = `${where === undefined ? '' : `${where}: `}${what}`;
  const many = count(problems.length, 'part');
  return `${many} of the plan cannot be used by this version and ${problems.length === 1 ? 'is' : 'are'} kept aside, not shown. ${problems.length > 1 ? 'The first: ' : ''}${first}`;
}

function count(number: number, word: string): string {
  return number === 1 ? `One ${word}` : `${number} ${word}s`;
}
