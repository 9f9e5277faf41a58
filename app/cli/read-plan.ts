import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { ClearingState } from '../../geo/raster/ground-record.ts';
import { defaultConditions, type Conditions } from '../../geo/plan/conditions.ts';
import { parseFeature, type PlanFeature } from '../../geo/plan/feature.ts';
import {
  defaultSettings,
  parseSetting,
  settingKeys,
  type Settings,
} from '../../geo/plan/settings.ts';
import { badInput, CliProblem } from './cli-problem.ts';
import { fileProblem } from './verb.ts';

/** A plan on disk: `plan.json` in a folder, with the rasters that it names beside it. */
export interface PlanOnDisk {
  readonly folder: string;
  readonly features: readonly PlanFeature[];
  readonly settings: Settings;
  readonly conditions: Conditions;
  /** The first one is the existing ground. */
  readonly grounds: readonly PlanGround[];
}

export interface PlanGround {
  readonly file: string;
  readonly name: string;
  readonly surveyedOn: string | null;
  readonly clearing: ClearingState;
  readonly verticalErrorMeters: number | null;
}

/** The folder of the built-in demo, wherever the command is run from. */
export const demoFolder = fileURLToPath(new URL('../../fixtures/demo/', import.meta.url));

/** Reads and checks a plan folder. Throws CliProblem on what the user can put right. */
export async function readPlan(folder: string): Promise<PlanOnDisk> {
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
  return {
    folder,
    features,
    settings: settings as unknown as Settings,
    conditions: {
      ...defaultConditions,
      ...(asObject(json.conditions ?? {}, path) as Partial<Conditions>),
    },
    grounds: asArray(json.grounds ?? [], `${path}: grounds`).map((one) =>
      groundOf(asObject(one, path), path),
    ),
  };
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
