import { pathLine } from '../water/drain-path.ts';
import { endsAt, type FlowCatchments } from '../water/flow-lines.ts';
import { pointerSteps } from '../water/pointer-codes.ts';
import type { SpotWays } from '../water/spot-ways.ts';
import { stageStorage } from '../water/stage-storage.ts';
import type { Work } from '../work.ts';
import type { Answer } from './answers.ts';
import { cellOutline } from './cell-outline.ts';
import type { GroundInUse, SiteDefinition } from './definition.ts';
import type { SpotDetail, SpotDetails } from './flow-answers.ts';
import { surveyConfidence } from './ground-inputs.ts';
import type { ListedLowSpots } from './listed-low-spots.ts';
import { spotBoxes } from './low-spot-outline.ts';
import type { LowSpotSurface } from './low-spot-surface.ts';
import { waterGroundOf } from './water-ground.ts';

/** The largest listed low spots by themselves: how they fill, what drains in, where they run over. */
export const spotDetails: SiteDefinition = {
  name: 'spotDetails',
  per: 'site',
  keep: 2,
  reads: [
    'answer:waterGround',
    'answer:lowSpotSurface',
    'answer:listedLowSpots',
    'answer:siteFlow',
    'answer:spotFlow',
    'record:ground',
  ],
  *compute(inputs): Work<Answer<SpotDetails> | null> {
    const ground = waterGroundOf(inputs);
    const surface = inputs.answer('lowSpotSurface') as LowSpotSurface | null;
    const list = inputs.answer('listedLowSpots') as ListedLowSpots | null;
    const flow = inputs.answer('siteFlow') as FlowCatchments | null;
    const of = inputs.answer('spotFlow') as SpotWays | null;
    if (!ground || !surface || !list || !flow || !of) return null;
    const { cellGroundAreaSquareMeters: area } = ground.grid;
    const shown = list.spots.slice(0, of.ways.length);
    const ids = new Map(list.spots.map(({ label, id }) => [label, id]));
    const boxes = yield* spotBoxes(
      surface.labels,
      ground.grid.width,
      Math.max(0, ...shown.map(({ label }) => label)),
    );
    const spots: SpotDetail[] = [];
    for (const [k, { id, label, spillElevationMeters }] of shown.entries()) {
      const { catchmentSquareMeters, catchmentCells, outletCell } = of.ways[k]!;
      const heights = heightsOf(ground, surface, label, boxes);
      spots.push({
        id,
        catchmentSquareMeters,
        catchment: yield* cellOutline(ground, catchmentCells),
        spillsAt: placeOf(ground, outletCell),
        spillsInto: nextSpot(ground, surface, flow, outletCell, ids),
        stages: stageStorage(heights, spillElevationMeters, area),
      });
      yield { share: (k + 1) / shown.length, doing: 'looking at each low spot' };
    }
    return {
      value: { spots },
      findings: [],
      basis: {
        method: [
          'Fills each low spot in ten equal steps from its deepest place to where it runs over, and adds up what is covered and held.',
          'It runs over at the pass of that height from which its water goes on outside.',
          'Its catchment is what D-infinity brings over its edge, walked upstream; the outline encloses the ground of which most comes, as many acres as come.',
        ],
        source: 'Definition of a stage–storage curve; Tarboton 1997 (D-infinity).',
        inputs: { spots: spots.length, listed: list.spots.length },
        confidence: surveyConfidence(ground),
      },
    };
  },
};

function heightsOf(
  { grid: { width, data } }: GroundInUse,
  { labels }: LowSpotSurface,
  label: number,
  boxes: Int32Array,
): number[] {
  const [left, top, right, bottom] = boxes.subarray((label - 1) * 4, label * 4);
  const heights: number[] = [];
  for (let row = top!; row <= bottom!; row++) {
    for (let cell = row * width + left!; cell <= row * width + right!; cell++) {
      if (labels[cell] === label) heights.push(data[cell]!);
    }
  }
  return heights;
}

/** The listed spot that water comes to next after this one is brim full; null where it leaves. */
function nextSpot(
  { grid: { width } }: GroundInUse,
  { labels }: LowSpotSurface,
  { pointers }: FlowCatchments,
  outletCell: number,
  ids: ReadonlyMap<number, string>,
): string | null {
  const steps = pointerSteps(width);
  let cell = outletCell;
  for (let n = 0; n < pointers.length; n++) {
    const next = ids.get(labels[cell]!);
    if (next !== undefined) return next;
    if (endsAt(pointers[cell]!)) return null;
    cell += steps[pointers[cell]!]!;
  }
  return null;
}

function placeOf({ grid, frame }: GroundInUse, cell: number): readonly [number, number] {
  const [at] = pathLine(grid, Int32Array.of(cell));
  const [lng, lat] = frame.toLngLat(...at!);
  return [Math.round(lng * 1e9) / 1e9, Math.round(lat * 1e9) / 1e9];
}
