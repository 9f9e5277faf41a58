import { createHash } from 'node:crypto';
import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { answerPlan } from '../../geo/answers/answer-plan.ts';
import type { GroundInUse } from '../../geo/answers/definition.ts';
import { openFrame } from '../../geo/frame/open-frame.ts';
import type { LinearUnit } from '../../geo/frame/crs-types.ts';
import { badInput, wrongUsage } from './cli-problem.ts';
import { groundFacts } from './ground-facts.ts';
import {
  groundOptionsHelp,
  groundChoices,
  groundOptions,
  openOrRefuse,
  withFiles,
} from './ground-options.ts';
import { demoFolder, readPlan, type PlanOnDisk } from './read-plan.ts';
import { fileProblem, printJson, readArguments, type Verb } from './verb.ts';

/** Every answer of a plan, by the same functions as on the page. */
export const answer: Verb = {
  help: `assart answer PROJECT|demo [--out DIR] [options]

Prints every answer of a plan: the ground, and what is known of each drawn feature. PROJECT is a
folder with plan.json and its rasters; demo is the built-in demo.

Options
  --out DIR             writes answers.json and plan.geojson there as well
  --ground FILE         the ground to answer from, of those in the plan; the first if not named
${groundOptionsHelp}

Prints JSON in SI units. Exit 0 done, 1 bad input, 2 wrong usage.`,
  async run(args) {
    const options = {
      ...groundOptions,
      out: { type: 'string' },
      ground: { type: 'string' },
    } as const;
    const { values, positionals } = readArguments('answer', args, options, { least: 1, most: 1 });
    const plan = await readPlan(positionals[0] === 'demo' ? demoFolder : positionals[0]!);
    const choices = groundChoices(values, 'answer');
    const chosen =
      values.ground === undefined
        ? plan.grounds[0]
        : plan.grounds.find((one) => one.file === values.ground);
    if (values.ground !== undefined && !chosen) {
      throw wrongUsage(`The plan has no ground "${values.ground}".`, 'answer');
    }
    const ground = chosen ? await openPlanGround(plan, chosen, choices) : null;
    const { features, settings, conditions } = plan;
    const answers = answerPlan({
      features,
      settings,
      conditions,
      rasters: ground ? { ground } : {},
    });
    const result = {
      plan: { siteName: settings.siteName, features: features.length, conditions },
      ground: ground && groundFacts(ground.grid, ground.record),
      ...answers,
    };
    if (values.out !== undefined) await writeOut(values.out, plan, result);
    printJson(result);
  },
};

async function openPlanGround(
  plan: PlanOnDisk,
  ground: PlanOnDisk['grounds'][number],
  choices: { readonly epsg?: number; readonly verticalUnit?: LinearUnit },
): Promise<GroundInUse> {
  const { file, name, ...said } = ground;
  return withFiles([join(plan.folder, file)], async (sources) => {
    const opening = await openOrRefuse(sources, { ...said, ...choices });
    if (opening.kind === 'photo') {
      const what = 'The plan names this file as ground, but it is a photo.';
      throw badInput({
        code: 'ground-is-photo',
        what,
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

async function writeOut(folder: string, plan: PlanOnDisk, result: object): Promise<void> {
  const collection = {
    type: 'FeatureCollection',
    features: plan.features.map(({ id, geometry, kind, name, properties }) => ({
      type: 'Feature',
      id,
      geometry,
      properties: { kind, name, ...properties },
    })),
  };
  try {
    await mkdir(folder, { recursive: true });
    await writeFile(join(folder, 'answers.json'), `${JSON.stringify(result, null, 2)}\n`);
    await writeFile(join(folder, 'plan.geojson'), `${JSON.stringify(collection)}\n`);
  } catch (error) {
    throw fileProblem(error, folder) ?? error;
  }
}
