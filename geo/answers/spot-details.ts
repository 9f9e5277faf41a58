import { isoRings } from '../raster/iso-rings.ts';
import { ringPolygons } from '../raster/ring-polygons.ts';
import { pathLine } from '../water/drain-path.ts';
import { endsAt, type FlowCatchments } from '../water/flow-lines.ts';
import { pointerSteps } from '../water/flow-pointers.ts';
import type { SpotWays } from '../water/spot-ways.ts';
import { stageStorage } from '../water/stage-storage.ts';
import type { Work } from '../work.ts';
import type { Answer, LngLatPolygon } from './answers.ts';
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
      const { catchmentSquareMeters, outletCell } = of.ways[k]!;
      const heights = heightsOf(ground, surface, label, boxes);
      spots.push({
        id,
        catchmentSquareMeters,
        catchment: yield* catchmentOutline(ground, of.drainsInto, 1 << k),
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
          'Its catchment is what D-infinity brings over its edge; the outline on the map is by the steepest of eight ways.',
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

/** Rings round the cells whose bit is set, half a cell out; degrees, rounded to 1e-7. */
function* catchmentOutline(
  { grid, frame }: GroundInUse,
  drainsInto: Uint8Array,
  bit: number,
): Work<LngLatPolygon[]> {
  const field = new Uint8Array(drainsInto.length);
  for (let i = 0; i < field.length; i++) field[i] = drainsInto[i]! & bit ? 1 : 0;
  const rings = yield* isoRings(field, grid.width, grid.height, 0.5);
  const toLngLat = ([column, row]: readonly [number, number]): [number, number] => {
    const [lng, lat] = frame.toLngLat(
      grid.west + (column + 0.5) * grid.cellWidth,
      grid.north - (row + 0.5) * grid.cellHeight,
    );
    return [Math.round(lng * 1e7) / 1e7, Math.round(lat * 1e7) / 1e7];
  };
  return ringPolygons(rings, -1).map((polygon) =>
    polygon.map((ring) => {
      const closed = ring.map(toLngLat);
      return [...closed, closed[0]!];
    }),
  );
}
