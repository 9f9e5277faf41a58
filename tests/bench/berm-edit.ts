import { AnswerGraph } from '../../geo/answers/graph.ts';
import { definitions } from '../../geo/answers/definitions.ts';
import { memorySource } from '../../geo/formats/byte-source.ts';
import { openGround } from '../../geo/formats/open-ground.ts';
import { openFrame } from '../../geo/frame/open-frame.ts';
import { readFileSync } from 'node:fs';
import { defaultConditions } from '../../geo/plan/conditions.ts';
import type { PlanFeature, Position } from '../../geo/plan/feature.ts';
import { defaultSettings, type Settings } from '../../geo/plan/settings.ts';
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
  const dragged = (waterOn: Settings['waterOn']) => {
    const graph = new AnswerGraph(definitions);
    graph.setRasters({ ground });
    graph.setSettings({ ...defaultSettings, waterOn });
    graph.setConditions(defaultConditions);
    graph.setFeatures([...plan.features, bermAt(0)]);
    const first = answer(graph);
    const edits = Array.from({ length: EDITS }, (_, i) => {
      graph.putFeatures({ edited: bermAt(i + 1) });
      return answer(graph);
    });
    return { first, edits: edits.slice(5) };
  };
  const { first, edits } = dragged('with-the-plan');
  // While the survey is in use the storm does not wait for the berm, nor the gaps for the storm.
  const surveyed = dragged('as-surveyed').edits;
  const at = (pick: (of: Times) => number, share: number, of = edits) =>
    of.map(pick).toSorted((a, b) => a - b)[Math.floor(share * of.length)]!;
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
    row('volume, footprint, acres and damming, 95th percentile', at(({ numbers }) => numbers, 0.95, surveyed), 'under 150 ms'), // prettier-ignore
    row(
      'its gaps too, median',
      at(({ gaps }) => gaps, 0.5, surveyed),
      '',
    ),
    row(
      'its gaps too, 95th percentile',
      at(({ gaps }) => gaps, 0.95, surveyed),
      'under 150 ms',
    ),
    row('every answer, median', at(({ all }) => all, 0.5), ''), // prettier-ignore
    row('every answer, 95th percentile', at(({ all }) => all, 0.95), ''), // prettier-ignore
  ];
}

/** What an edit of a berm is waited for. */
const numbersOf = ['damming', 'bermHolds', 'plantable'];

interface Times {
  readonly numbers: number;
  readonly gaps: number;
  readonly dams: number;
  readonly ponds: number;
  readonly all: number;
}

function answer(graph: AnswerGraph): Times {
  const started = performance.now();
  let dams = NaN;
  let ponds = NaN;
  let numbers = NaN;
  let gaps = NaN;
  const settle = ({ name, featureId }: { name: string; featureId: string | null }) => {
    if (name === 'damming' && featureId === 'edited') dams = performance.now() - started;
    const isOwn = featureId === 'edited' || name === 'plantable';
    if (isOwn && numbersOf.includes(name)) numbers = performance.now() - started;
    if (isOwn && name === 'bermGaps') gaps = performance.now() - started;
    if (name === 'storm') ponds = performance.now() - started;
  };
  for (let job = graph.next(settle); job; job = graph.next(settle)) {
    graph.done(job, finish(job.begin()), settle);
  }
  return { numbers, gaps: Math.max(numbers, gaps), dams, ponds, all: performance.now() - started };
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
