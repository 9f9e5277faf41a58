import { readFileSync } from 'node:fs';
import type { PlanAnswers } from '../geo/answers/answer-plan.ts';
import { memorySource } from '../geo/formats/byte-source.ts';
import { openGround } from '../geo/formats/open-ground.ts';
import { openFrame } from '../geo/frame/open-frame.ts';
import type { PlanFeature } from '../geo/plan/feature.ts';
import type { Settings } from '../geo/plan/settings.ts';
import { answersOf, groundOf } from './answers-rig.ts';

/** The answers on the demo as it is shipped, with other features or settings if they are given. */
export async function demoAnswers(
  more: readonly PlanFeature[] = [],
  settings: Partial<Settings> = {},
): Promise<PlanAnswers> {
  const bytes = new Uint8Array(readFileSync('fixtures/demo/ground.tif'));
  const plan = JSON.parse(readFileSync('fixtures/demo/plan.json', 'utf8')) as {
    features: PlanFeature[];
    settings: Partial<Settings>;
  };
  const opening = await openGround([memorySource('ground.tif', bytes)]);
  if (opening.kind !== 'opened') throw new Error(JSON.stringify(opening));
  const { grid, draft } = opening;
  const said = { ...draft, clearing: 'before-clearing', verticalErrorMeters: 0.1 } as const;
  const ground = groundOf(grid, openFrame(grid.frame), said);
  return answersOf([...plan.features, ...more], ground, { ...plan.settings, ...settings });
}
