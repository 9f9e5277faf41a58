import { AnswerGraph } from '../../geo/answers/graph.ts';
import { definitions } from '../../geo/answers/definitions.ts';
import { memorySource } from '../../geo/formats/byte-source.ts';
import { openGround } from '../../geo/formats/open-ground.ts';
import { openFrame } from '../../geo/frame/open-frame.ts';
import { readFileSync } from 'node:fs';
import { defaultConditions } from '../../geo/plan/conditions.ts';
import type { PlanFeature, Position } from '../../geo/plan/feature.ts';
import { defaultSettings } from '../../geo/plan/settings.ts';
import { finish } from '../../geo/work.ts';
import { bermOf, groundOf } from '../answers-rig.ts';
import { demoPlace } from '../demo-answers.ts';
import type { BenchRow } from './bench-row.ts';

const EDITS = 60;

/**
 * A corner of a berm on the demo is dragged, the water running with the plan: what the worker
 * computes for each move until the berm says what it dams, and until every answer is current,
 * against the first answers of the demo in the same run.
 */
export async function run(): Promise<BenchRow[]> {
  const opening = await openGround([
    memorySource('ground.tif', new Uint8Array(readFileSync('fixtures/demo/ground.tif'))),
  ]);
  if (opening.kind !== 'opened') throw new Error(opening.kind);
  const said = { ...opening.draft, clearing: 'before-clearing', verticalErrorMeters: 0.1 } as const;
  const ground = groundOf(opening.grid, openFrame(opening.grid.frame), said);
  const plan = JSON.parse(readFileSync('fixtures/demo/plan.json', 'utf8')) as {
    features: PlanFeature[];
  };
  const graph = new AnswerGraph(definitions);
  graph.setRasters({ ground });
  graph.setSettings({ ...defaultSettings, waterOn: 'with-the-plan' });
  graph.setConditions(defaultConditions);
  graph.setFeatures([...plan.features, bermAt(0)]);
  const first = answer(graph);
  const edits = Array.from({ length: EDITS }, (_, i) => {
    graph.putFeatures({ edited: bermAt(i + 1) });
    return answer(graph);
  }).slice(5);
  const at = (pick: (of: Times) => number, share: number) =>
    edits.map(pick).toSorted((a, b) => a - b)[Math.floor(share * edits.length)]!;
  const row = (name: string, ours: number, bar: string): BenchRow => ({
    name: `berm dragged on the demo: ${name}, ms`,
    ours,
    reference: first.all,
    referenceName: 'all answers of the demo, first time',
    ratio: ours / first.all,
    bar,
  });
  return [
    row('what it dams, median', at(({ dams }) => dams, 0.5), ''), // prettier-ignore
    row('what it dams, 95th percentile', at(({ dams }) => dams, 0.95), 'under 150 ms'), // prettier-ignore
    row(
      'the ponds of the storm, 95th percentile',
      at(({ ponds }) => ponds, 0.95),
      'under 150 ms',
    ),
    row('every answer, median', at(({ all }) => all, 0.5), ''), // prettier-ignore
    row('every answer, 95th percentile', at(({ all }) => all, 0.95), ''), // prettier-ignore
  ];
}

interface Times {
  readonly dams: number;
  readonly ponds: number;
  readonly all: number;
}

function answer(graph: AnswerGraph): Times {
  const started = performance.now();
  let dams = NaN;
  let ponds = NaN;
  const settle = ({ name, featureId }: { name: string; featureId: string | null }) => {
    if (name === 'damming' && featureId === 'edited') dams = performance.now() - started;
    if (name === 'storm') ponds = performance.now() - started;
  };
  for (let job = graph.next(settle); job; job = graph.next(settle)) {
    graph.done(job, finish(job.begin()), settle);
  }
  return { dams, ponds, all: performance.now() - started };
}

/** Along the low edge of the bench plot with returned ends; one corner goes downhill by so much. */
function bermAt(move: number): PlanFeature {
  const corners: Position[] = [
    demoPlace(-124, 551),
    demoPlace(-124, 570 + 0.1 * move),
    demoPlace(54, 570),
    demoPlace(54, 551),
  ];
  return bermOf('edited', corners);
}
