import { createHash } from 'node:crypto';
import { readFile, stat } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { GroundInUse, Rasters } from '../../geo/answers/definition.ts';
import type { GroundChoices } from '../../geo/formats/opening.ts';
import { parseStored } from '../../geo/formats/project/parse-stored.ts';
import { openFrame } from '../../geo/frame/open-frame.ts';
import type { ClearingState } from '../../geo/raster/ground-record.ts';
import {
  defaultConditions,
  isConditionKey,
  parseCondition,
  type Conditions,
} from '../../geo/plan/conditions.ts';
import { parseFeature, type PlanFeature } from '../../geo/plan/feature.ts';
import {
  defaultSettings,
  parseSetting,
  settingKeys,
  type Settings,
} from '../../geo/plan/settings.ts';
import { badInput, CliProblem, wrongUsage } from './cli-problem.ts';
import { openOrRefuse, withFiles } from './ground-options.ts';
import { openProject, type ProjectOnDisk } from './open-project.ts';
import { fileProblem } from './verb.ts';

/**
 * A plan on disk: a project (its zip or unzipped), or `plan.json` in a folder with the rasters that
 * it names beside it. Close it when done.
 */
export interface PlanOnDisk {
  readonly features: readonly PlanFeature[];
  readonly settings: Settings;
  readonly conditions: Conditions;
  /** The first one is the ground in use. */
  readonly grounds: readonly OpenableGround[];
  /** Plain sentences: what was left out or is missing. */
  readonly notes: readonly string[];
  close(): Promise<void>;
}

export interface OpenableGround {
  readonly file: string;
  /** Its content hash; null where only its file is known. */
  readonly id: string | null;
  open(choices: GroundChoices): Promise<GroundInUse>;
}

interface PlanGround {
  readonly file: string;
  readonly name: string;
  readonly surveyedOn: string | null;
  readonly clearing: ClearingState;
  readonly verticalErrorMeters: number | null;
}

/** The folder of the built-in demo, wherever the command is run from. */
const demoFolder = fileURLToPath(new URL('../../fixtures/demo/', import.meta.url));

/** Reads and checks a plan; `demo` is the built-in one. Throws CliProblem on what the user can put right. */
export async function readPlan(path: string): Promise<PlanOnDisk> {
  const plan = await planAt(path);
  if (plan) return plan;
  throw badInput({
    code: 'project-none',
    what: 'This file is no saved project.',
    where: path,
    wayOut: 'Name a project that was saved with "Save a copy", or the folder it was unzipped into.',
  });
}

/** The same; null where the path is that of a file which is no project. */
export async function planAt(path: string): Promise<PlanOnDisk | null> {
  if (path === 'demo') return readPlan(demoFolder);
  const project = await openProject(path);
  if (project) return planOf(project);
  return (await stat(path)).isDirectory() ? readFolder(path) : null;
}

/** The ground of a plan that is named, or the first; null where it has none. Closes the plan. */
export async function groundOfPlan(
  plan: PlanOnDisk,
  named: string | undefined,
  choices: GroundChoices,
  verb: string,
): Promise<GroundInUse | null> {
  return (await rastersOfPlan(plan, named === undefined ? {} : { ground: named }, choices, verb)).ground ?? null; // prettier-ignore
}

/** That, and the surface over it that is named or that the plan has in use. Closes the plan. */
export async function rastersOfPlan(
  plan: PlanOnDisk,
  named: { readonly ground?: string; readonly surface?: string },
  choices: GroundChoices,
  verb: string,
): Promise<Partial<Rasters>> {
  const find = (name: string) => {
    const chosen = plan.grounds.find(({ file }) => file === name || basename(file) === name);
    if (!chosen) throw wrongUsage(`The plan has no ground "${name}".`, verb);
    return chosen;
  };
  try {
    const chosen = named.ground === undefined ? plan.grounds[0] : find(named.ground);
    const over =
      named.surface === undefined
        ? plan.grounds.find(({ id }) => id !== null && id === plan.settings.surfaceId)
        : find(named.surface);
    const ground = await chosen?.open(choices);
    const surface = over && over !== chosen ? await over.open(choices) : undefined;
    return { ...(ground && { ground }), ...(surface && { surface }) };
  } finally {
    await plan.close();
  }
}

function planOf(project: ProjectOnDisk): PlanOnDisk {
  const { plan, rasters, missing, notes } = project;
  const features: PlanFeature[] = [];
  for (const [id, value] of Object.entries(plan.features)) {
    const parsed = parseStored('features', id, value);
    if (parsed.ok) features.push(parsed.value as PlanFeature);
  }
  const valid = (map: 'settings' | 'conditions') =>
    Object.fromEntries(
      Object.entries(plan[map]).flatMap(([key, value]) => {
        const parsed = parseStored(map, key, value);
        return parsed.ok ? [[key, parsed.value]] : [];
      }),
    );
  const settings: Settings = { ...defaultSettings, ...valid('settings') };
  const grounds = rasters.flatMap((raster) => (raster.kind === 'ground' ? [raster] : []));
  const inUse = (id: string) => (id === settings.groundId ? 0 : 1);
  return {
    features,
    settings,
    conditions: { ...defaultConditions, ...valid('conditions') },
    grounds: grounds
      .toSorted((a, b) => inUse(a.record.id) - inUse(b.record.id))
      .map((raster) => ({
        file: raster.path,
        id: raster.record.id,
        open: () => project.ground(raster),
      })),
    notes: [...missing.map(({ what }) => what), ...notes],
    close: () => project.close(),
  };
}

async function readFolder(folder: string): Promise<PlanOnDisk> {
  const path = join(folder, 'plan.json');
  let text: string;
  try {
    text = await readFile(path, 'utf8');
  } catch (error) {
    throw fileProblem(error, path) ?? error;
  }
  const json = asObject(parse(text, path), path);
  if (json.schemaVersion !== 1) {
    throw new CliProblem(
      `${path}: The plan is of version ${String(json.schemaVersion)}, not 1. Save it again with this version.`,
      1,
    );
  }
  const settings: Record<string, unknown> = { ...defaultSettings };
  const given = asObject(json.settings ?? {}, path);
  for (const key of settingKeys) {
    if (given[key] === undefined) continue;
    const parsed = parseSetting(key, given[key]);
    if (!parsed.ok) throw badInput({ ...parsed.problem, where: path });
    settings[key] = parsed.value;
  }
  const features = asArray(json.features, `${path}: features`).map((one) => {
    const parsed = parseFeature(one);
    if (!parsed.ok) throw badInput(parsed.problem);
    return parsed.value;
  });
  const conditions: Record<string, unknown> = { ...defaultConditions };
  for (const [key, value] of Object.entries(asObject(json.conditions ?? {}, path))) {
    if (!isConditionKey(key)) throw new CliProblem(`${path}: there is no condition ${key}.`, 1);
    const parsed = parseCondition(key, value);
    if (!parsed.ok) throw badInput(parsed.problem);
    conditions[key] = parsed.value;
  }
  return {
    features,
    settings: settings as unknown as Settings,
    conditions: conditions as unknown as Conditions,
    grounds: asArray(json.grounds ?? [], `${path}: grounds`).map((one) => {
      const ground = groundOf(asObject(one, path), path);
      return {
        file: ground.file,
        id: null,
        open: (choices) => openPlanGround(folder, ground, choices),
      };
    }),
    notes: [],
    close: () => Promise.resolve(),
  };
}

async function openPlanGround(
  folder: string,
  { file, name, ...said }: PlanGround,
  choices: GroundChoices,
): Promise<GroundInUse> {
  return withFiles([join(folder, file)], async (sources) => {
    const opening = await openOrRefuse(sources, { ...said, ...choices });
    if (opening.kind === 'photo') {
      throw badInput({
        code: 'ground-is-photo',
        what: 'The plan names this file as ground, but it is a photo.',
        where: file,
        wayOut: 'Name an elevation file in plan.json.',
      });
    }
    const { grid, draft } = opening;
    const bytes = new Uint8Array(grid.data.buffer, grid.data.byteOffset, grid.data.byteLength);
    const id = createHash('sha256').update(bytes).digest('hex');
    return { record: { ...draft, name, id }, grid, frame: openFrame(grid.frame) };
  });
}

function groundOf(ground: Record<string, unknown>, path: string): PlanGround {
  const { file, name, surveyedOn, clearing, verticalErrorMeters } = ground;
  if (typeof file !== 'string' || /[\\/]/.test(file)) {
    throw new CliProblem(`${path}: A ground names no file beside the plan. Correct its "file".`, 1);
  }
  const states: readonly ClearingState[] = ['before-clearing', 'after-clearing', 'unknown'];
  return {
    file,
    name: typeof name === 'string' ? name : file,
    surveyedOn: typeof surveyedOn === 'string' ? surveyedOn : null,
    clearing: states.find((state) => state === clearing) ?? 'unknown',
    verticalErrorMeters: typeof verticalErrorMeters === 'number' ? verticalErrorMeters : null,
  };
}

function parse(text: string, path: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    throw new CliProblem(`${path}: The plan is no whole JSON. Save or copy it again.`, 1);
  }
}

function asObject(value: unknown, where: string): Record<string, unknown> {
  if (typeof value === 'object' && value !== null && !Array.isArray(value)) {
    return value as Record<string, unknown>;
  }
  throw new CliProblem(
    `${where}: The plan does not have the form that is expected. Save it again.`,
    1,
  );
}

function asArray(value: unknown, where: string): readonly unknown[] {
  if (Array.isArray(value)) return value;
  throw new CliProblem(`${where} is missing. Save the plan again.`, 1);
}
