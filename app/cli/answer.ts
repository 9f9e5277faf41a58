import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { answerPlan } from '../../geo/answers/answer-plan.ts';
import { writePlanGeoJson } from '../../geo/formats/project/write-plan-geojson.ts';
import { groundFacts } from './ground-facts.ts';
import { groundOptionsHelp, groundChoices, groundOptions } from './ground-options.ts';
import { rastersOfPlan, readPlan, type PlanOnDisk } from './read-plan.ts';
import { fileProblem, jsonOf, printJson, readArguments, type Verb } from './verb.ts';

/** Every answer of a plan, by the same functions as on the page. */
export const answer: Verb = {
  help: `assart answer PROJECT|demo [--out DIR] [options]

Prints every answer of a plan: the ground, and what is known of each drawn feature. PROJECT is a
saved copy of a project (the zip, or the folder it was unzipped into), or a folder with plan.json and
its rasters; demo is the built-in demo.

Options
  --out DIR             writes answers.json and plan.geojson there as well
  --ground FILE         the ground to answer from, of those in the plan; the first if not named
  --surface FILE        a surface over it, of those in the plan: tree tops, or heaps that stand
${groundOptionsHelp}

Prints JSON in SI units. Exit 0 done, 1 bad input, 2 wrong usage.`,
  async run(args) {
    const options = {
      ...groundOptions,
      out: { type: 'string' },
      ground: { type: 'string' },
      surface: { type: 'string' },
    } as const;
    const { values, positionals } = readArguments('answer', args, options, { least: 1, most: 1 });
    const plan = await readPlan(positionals[0]!);
    const choices = groundChoices(values, 'answer');
    const rasters = await rastersOfPlan(plan, values, choices, 'answer');
    const ground = rasters.ground ?? null;
    const { features, settings, conditions, notes } = plan;
    const answers = answerPlan({ features, settings, conditions, rasters });
    const result = {
      plan: {
        siteName: settings.siteName,
        features: features.length,
        conditions,
        ...(notes.length > 0 && { notes }),
      },
      ground: ground && groundFacts(ground.grid, ground.record),
      ...answers,
    };
    if (values.out !== undefined) await writeOut(values.out, plan, result);
    printJson(result);
  },
};

async function writeOut(folder: string, plan: PlanOnDisk, result: object): Promise<void> {
  const features = Object.fromEntries(plan.features.map((feature) => [feature.id, feature]));
  try {
    await mkdir(folder, { recursive: true });
    await writeFile(join(folder, 'answers.json'), jsonOf(result));
    await writeFile(join(folder, 'plan.geojson'), writePlanGeoJson({ features, extras: {} }));
  } catch (error) {
    throw fileProblem(error, folder) ?? error;
  }
}
