import { readFileSync } from 'node:fs';
import proj4 from 'proj4';
import type { PlanAnswers } from '../geo/answers/answer-plan.ts';
import type { Definition, GroundInUse } from '../geo/answers/definition.ts';
import { definitions } from '../geo/answers/definitions.ts';
import { memorySource } from '../geo/formats/byte-source.ts';
import { openGround } from '../geo/formats/open-ground.ts';
import { openFrame } from '../geo/frame/open-frame.ts';
import type { Conditions } from '../geo/plan/conditions.ts';
import { roundDegrees, type PlanFeature, type Position } from '../geo/plan/feature.ts';
import type { Settings } from '../geo/plan/settings.ts';
import { answersOf, groundOf } from './answers-rig.ts';

/** A place of the trade notes' recipe (§6.7): c across and d down the fall line, metres. */
export function demoPlace(c: number, d: number): Position {
  const x = 500_000 + 0.6 * d + 0.8 * c;
  const y = 4_000_000 + 720 - (0.8 * d - 0.6 * c);
  const [lng, lat] = proj4('+proj=utm +zone=18 +ellps=GRS80', '+proj=longlat +ellps=GRS80', [x, y]);
  return [roundDegrees(lng!), roundDegrees(lat!)];
}

/** The demo's plan as shipped. */
export const demoPlan = JSON.parse(readFileSync('fixtures/demo/plan.json', 'utf8')) as {
  readonly features: readonly PlanFeature[];
  readonly settings: Partial<Settings>;
  readonly conditions: Conditions;
};

type DemoGround = 'ground.tif' | 'finish.tif';

/** A ground of the demo as its file says it; `said` besides. */
export async function demoGround(
  file: DemoGround,
  said: Partial<Parameters<typeof groundOf>[2]> = {},
): Promise<GroundInUse> {
  const bytes = new Uint8Array(readFileSync(`fixtures/demo/${file}`));
  const opening = await openGround([memorySource(file, bytes)]);
  if (opening.kind !== 'opened') throw new Error(JSON.stringify(opening));
  const { grid, draft } = opening;
  return groundOf(grid, openFrame(grid.frame), { ...draft, ...said });
}

/** The answers on the demo as shipped; features of one's own take the place of its berm. */
export async function demoAnswers(
  more: readonly PlanFeature[] = [],
  settings: Partial<Settings> = {},
  file: DemoGround = 'ground.tif',
  asked: readonly Definition[] = definitions,
): Promise<PlanAnswers> {
  const said = { clearing: 'before-clearing', verticalErrorMeters: 0.1 } as const;
  const ground = await demoGround(file, said);
  const kept = demoPlan.features.filter(({ kind }) => kind !== 'berm' || more.length === 0);
  return answersOf([...kept, ...more], ground, { ...demoPlan.settings, ...settings }, asked);
}
