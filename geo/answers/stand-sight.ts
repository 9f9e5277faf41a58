import { frameMetersPerGroundMeter } from '../plan/construct/plan-plane.ts';
import { isKind, type PlanFeature } from '../plan/feature.ts';
import type { XY } from '../plan/overlay/arrangement.ts';
import { shapeDistance } from '../plan/shape-distance.ts';
import { metersFromFeet } from '../frame/units.ts';
import { polygonCoverage } from '../raster/polygon-coverage.ts';
import { cellAt } from '../raster/sample.ts';
import { eyeNeeded } from '../sight/eye-needed.ts';
import { LITTLE_MORE, seenByHeight } from '../sight/seen-by-height.ts';
import type { Work } from '../work.ts';
import type { Answer } from './answers.ts';
import { coveredWindow, windowRound } from './covered-window.ts';
import { cropped } from './dam-window.ts';
import type { FeatureDefinition, GroundInUse, Inputs } from './definition.ts';
import type { Finding } from './finding.ts';
import { firstPosition } from './first-position.ts';
import { finding, inFrame } from './ground-inputs.ts';
import { planOnGround } from './plan-on-ground.ts';
import type { StandSight } from './shot-answers.ts';
import { soundRings } from './shot-places.ts';
import { EYE_OVER_FLOOR_METERS, TARGET_METERS } from './stand-shots.ts';

/** Floors of 4 to 20 ft, a foot apart (trade notes Q22). */
const FLOORS = Array.from({ length: 17 }, (_, i) => metersFromFeet(4 + i));
/** A plot farther off is not this stand's: 300 yd (trade notes §6.8). */
const NEAR_METERS = 274.32;
/** Less of the plot than this from its own floor is worth a word. */
const LITTLE_SHARE = 0.5;
/** Less gained by the knee than this is not worth a climb. */
const LEAST_GAIN = 0.1;

/** How much of the plot near each stand is seen, by the height of its floor. */
export const standSight: FeatureDefinition = {
  name: 'seenByHeight',
  per: 'stand',
  unhurried: true,
  reads: ['answer:sightGround', 'features:plot', 'features:berm', 'features:heap'],
  *compute(inputs, feature): Work<Answer<StandSight> | null> {
    const ground = inputs.answer('sightGround') as GroundInUse | null;
    if (!ground || !isKind(feature, 'stand')) return null;
    const at = inFrame(ground.frame, firstPosition(feature));
    const near = at && nearestPlot(inputs, ground, at);
    if (!at || !near || cellAt(ground.grid, at[0], at[1]) < 0) return null;
    const part = partFor(inputs, ground, at, near.rings);
    if (!part) return null;
    const covered = polygonCoverage(part.grid, near.rings);
    const window = coveredWindow(covered);
    if (!window) return null;
    const place = { x: at[0], y: at[1], radiusMeters: Infinity };
    const needed = yield* eyeNeeded(part.grid, place, window, TARGET_METERS);
    if (!needed) return null;
    const own = feature.properties.seatHeightMeters;
    const floors = [...new Set([...FLOORS, own])].sort((a, b) => a - b);
    const all = seenByHeight(needed, covered, floors, EYE_OVER_FLOOR_METERS);
    const { seenShares, knee, missingShare } = seenByHeight(needed, covered, FLOORS, EYE_OVER_FLOOR_METERS); // prettier-ignore
    if (!Number.isFinite(seenShares[0]!)) return null;
    const value: StandSight = {
      plotId: near.id,
      heights: FLOORS.map((floorMeters, i) => ({ floorMeters, seenShare: seenShares[i]! })),
      kneeMeters: knee === null ? null : FLOORS[knee]!,
      ownFloorMeters: own,
      ownShare: all.seenShares[floors.indexOf(own)]!,
      missingShare,
    };
    return {
      value,
      findings: findingsOf(feature.id, value),
      basis: {
        method: [
          'Looks from the stand to every piece of the plot, over the ground with berms and brush piles as they are drawn, and asks how high an eye must be to see a target there.',
          'The floor past which more height shows little more is the lowest one from which the plot is seen to within {littleMoreShare} of it as from the highest.',
          'Trees and brush are left out: lanes through them have to be cut.',
        ],
        source:
          'Lines of sight as in the viewshed. What is little more, eye {eyeOverFloorMeters} over the floor, target {targetMeters} high: common practice, no source.',
        inputs: {
          eyeOverFloorMeters: EYE_OVER_FLOOR_METERS,
          targetMeters: TARGET_METERS,
          littleMoreShare: LITTLE_MORE,
          floorStepMeters: FLOORS[1]! - FLOORS[0]!,
        },
        confidence:
          'To about {floorStepMeters} of floor on bare ground; crops and brush hide more.',
      },
    };
  },
};

function nearestPlot(inputs: Inputs, { frame }: GroundInUse, at: XY) {
  let best: { id: string; rings: XY[][]; meters: number } | null = null;
  const limit = NEAR_METERS * frameMetersPerGroundMeter(frame, at);
  for (const plot of [...inputs.features('plot')].sort((a, b) => (a.id < b.id ? -1 : 1))) {
    const rings = soundRings(plot, frame);
    if (!rings) continue;
    const to = { kind: 'area', paths: rings } as const;
    const { meters } = shapeDistance({ kind: 'point', paths: [[at]] }, to);
    if (meters <= limit && (!best || meters < best.meters)) best = { id: plot.id, rings, meters };
  }
  return best;
}

/** The ground between the stand and the plot, with what is raised on it; null off the ground. */
function partFor(
  inputs: Inputs,
  ground: GroundInUse,
  at: XY,
  rings: readonly (readonly XY[])[],
): GroundInUse | null {
  const { grid } = ground;
  const cell = cellAt(grid, at[0], at[1]);
  const plot = coveredWindow(polygonCoverage(grid, rings));
  if (cell < 0 || !plot) return null;
  const [row, column] = [Math.floor(cell / grid.width), cell % grid.width];
  const window = windowRound([plot, { row, column, width: 1, height: 1 }])!;
  const part = cropped(ground, window);
  const raised: PlanFeature[] = [...inputs.features('berm'), ...inputs.features('heap')];
  return { ...part, grid: { ...part.grid, data: planOnGround(part, raised) } };
}

function findingsOf(id: string, { ownShare, kneeMeters, heights, plotId }: StandSight): Finding[] {
  const atKnee = heights.find(({ floorMeters }) => floorMeters === kneeMeters);
  if (!atKnee || ownShare >= LITTLE_SHARE || atKnee.seenShare - ownShare < LEAST_GAIN) return [];
  return [
    finding('note', 'sees-little', [id, plotId], {
      share: ownShare,
      floorMeters: atKnee.floorMeters,
      thenShare: atKnee.seenShare,
    }),
  ];
}
