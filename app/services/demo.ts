import * as v from 'valibot';
import { parseFeature, type PlanFeature } from '../../geo/plan/feature.ts';
import type { Conditions } from '../../geo/plan/conditions.ts';
import type { Settings } from '../../geo/plan/settings.ts';
import type { Problem } from '../../geo/result.ts';
import type { PlanChange } from '../document/plan-document.ts';
import type { OpenPlan } from '../document/start.ts';
import { session } from '../store/session.ts';
import type { Door } from '../workers/door.ts';
import type { GroundChoices, GroundOpening } from '../workers/messages.ts';

/** The demo's plan as `fixtures/generate.ts` writes it. */
const demoPlan = v.looseObject({
  features: v.array(v.unknown()),
  settings: v.record(v.string(), v.unknown()),
  conditions: v.record(v.string(), v.unknown()),
  grounds: v.array(
    v.object({
      file: v.string(),
      name: v.string(),
      surveyedOn: v.nullable(v.string()),
      clearing: v.picklist(['before-clearing', 'after-clearing', 'unknown']),
      verticalErrorMeters: v.nullable(v.number()),
    }),
  ),
  photo: v.object({ files: v.array(v.string()), name: v.string() }),
});

/**
 * Puts the invented tract Quillstone Bench into an empty plan: linework at once, then its ground and
 * its photo through the same door as anybody's files. Nothing of it is an undo step.
 */
export async function startDemo(plan: OpenPlan, door: Door): Promise<void> {
  try {
    const response = await fetch(new URL('plan.json', document.baseURI));
    const demo = v.parse(demoPlan, await response.json());
    const features: Record<string, PlanFeature> = {};
    for (const raw of demo.features) {
      const parsed = parseFeature(raw);
      if (parsed.ok) features[parsed.value.id] = parsed.value;
    }
    const settings: Partial<Settings> = { ...demo.settings, isDemo: true };
    seed(plan, { features, settings });
    plan.document.setConditions(demo.conditions as Partial<Conditions>);
    const [first] = demo.grounds;
    // The photo is on its way while the ground is read.
    const photoFiles = Promise.all(demo.photo.files.map(fetchFile));
    if (first) {
      const { file, name, ...choices } = first;
      const files = [await fetchFile(file)];
      // Whoever has gone on to another project meanwhile must not get this ground under it.
      const useAtOnce = session.getState().projectId === plan.planId;
      take(plan, name, await read(door, files, choices, useAtOnce));
    }
    take(plan, demo.photo.name, await read(door, await photoFiles, {}, false));
  } catch (error) {
    fail({
      code: 'demo-missing',
      what: `The demo could not be opened: ${error instanceof Error ? error.message : String(error)}.`,
      wayOut: 'Open your own elevation file instead.',
    });
  }
}

function read(
  door: Door,
  files: File[],
  choices: GroundChoices,
  useAtOnce: boolean,
): Promise<GroundOpening> {
  return door.ask('openFiles', { files, choices, useAtOnce }).answer;
}

async function fetchFile(name: string): Promise<File> {
  const response = await fetch(new URL(name, document.baseURI));
  if (!response.ok) throw new Error(`${name} is missing`);
  return new File([await response.blob()], name);
}

function take(plan: OpenPlan, name: string, opening: GroundOpening): void {
  if (opening.kind === 'opened') {
    const ground = { ...opening.ground, name };
    seed(plan, { grounds: { [ground.id]: ground }, settings: { groundId: ground.id } });
  } else if (opening.kind === 'photo') {
    const photo = { ...opening.photo, name };
    seed(plan, { photos: { [photo.id]: photo }, settings: { photoId: photo.id } });
  } else if (opening.kind === 'refused') fail(opening.problem);
}

function seed(plan: OpenPlan, change: PlanChange): void {
  const done = plan.document.seed(change);
  if (!done.ok) fail(done.problem);
}

function fail(problem: Problem): void {
  session.setState({ problem });
}
