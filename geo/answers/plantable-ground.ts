import type { Frame } from '../frame/crs-types.ts';
import { measurePolygon } from '../frame/geodesic.ts';
import { zoneFrame } from '../frame/zone-frame.ts';
import { planeSlopeIn, planeWindow } from '../ground/plane-slope.ts';
import type { PlanFeature } from '../plan/feature.ts';
import { findOutlineFault } from '../plan/outline-faults.ts';
import type { XY } from '../plan/overlay/arrangement.ts';
import { shareOut } from '../plan/overlay/overlay.ts';
import type { PlanePolygon } from '../plan/overlay/ring-areas.ts';
import type { Settings } from '../plan/settings.ts';
import { eachCoveredRun } from '../raster/covered-cells.ts';
import { polygonCoverage } from '../raster/polygon-coverage.ts';
import type { Plantable, PlantableTaking } from './answers.ts';
import { coveredWindow, windowRound } from './covered-window.ts';
import type { GroundInUse } from './definition.ts';
import { ringsInFrame } from './ground-inputs.ts';
import { burns, isInDoubt, takingsNear, type TakingsAsked } from './takings.ts';

/** Less than this is a touch, not a taking: 1 dm². */
export const leastTakingSquareMeters = 0.01;

/** A plot, and all that may take ground from it. */
export interface PlantableAsked extends Omit<TakingsAsked, 'isNextFall'> {
  readonly plot: PlanFeature;
  readonly ground: GroundInUse | null;
}

export interface PlantableGround extends Plantable {
  readonly thingsNear: number;
}

/**
 * What is left of a plot to plant, and what was taken off, each piece of ground once; this fall, and
 * next fall once what is to burn has burned. Null for what encloses no clear piece of ground.
 */
export function plantableGround(asked: PlantableAsked): PlantableGround | null {
  const { plot, ground } = asked;
  if (plot.geometry.type !== 'Polygon') return null;
  const outline = plot.geometry.coordinates;
  if (findOutlineFault(outline)) return null;
  const { areaSquareMeters } = measurePolygon(outline);
  if (!(areaSquareMeters > 0)) return null;
  const plane = planeOf(plot, ground);
  const now = takeOff(asked, plane, areaSquareMeters, false);
  const next = now.near.some(({ feature }) => burns(feature))
    ? takeOff(asked, plane, areaSquareMeters, true)
    : now;
  const doubtful = now.near.filter((taking) => isInDoubt(taking, plane.rings));
  return {
    areaSquareMeters,
    plantableSquareMeters: now.left,
    taken: now.taken,
    nextFallSquareMeters: next.left,
    nextFallTaken: next.taken,
    unknownSizeIds: doubtful.map((taking) => taking.feature.id),
    steepJudgedShare: asked.settings.takeOffTooSteep ? (now.steepJudgedShare ?? 0) : null,
    thingsNear: now.near.length,
  };
}

function takeOff(
  asked: PlantableAsked,
  { frame, rings, onGround }: Plane,
  areaSquareMeters: number,
  isNextFall: boolean,
) {
  const near = takingsNear({ ...asked, isNextFall }, frame, rings);
  const takings = near.filter((taking) => taking.layer !== null);
  const shares = shareOut([{ rings, rule: 'even-odd' }, ...takings.map((taking) => taking.layer!)]);
  // Shares of the plot's own area of record, so that they add up to it.
  const ratio = areaSquareMeters / shares.areas.reduce((sum, area) => sum + area, 0);
  const taken: PlantableTaking[] = [];
  takings.forEach(({ feature: by }, i) => {
    const area = shares.areas[i + 1]! * ratio;
    if (area < leastTakingSquareMeters) return;
    taken.push({ reason: by.kind, featureId: by.id, areaSquareMeters: area });
  });
  const steep = onGround ? steepGround(asked.settings, onGround, shares.left) : null;
  if (steep && steep.frameArea * ratio >= leastTakingSquareMeters) {
    taken.push({ reason: 'too-steep', featureId: null, areaSquareMeters: steep.frameArea * ratio });
  }
  const off = taken.reduce((sum, { areaSquareMeters: area }) => sum + area, 0);
  const left = Math.max(0, areaSquareMeters - off);
  return { near, taken, left, steepJudgedShare: steep?.judgedShare };
}

interface Plane {
  readonly frame: Frame;
  readonly rings: readonly (readonly XY[])[];
  /** The ground, where it is in the same frame. */
  readonly onGround: GroundInUse | null;
}

/** The ground's own frame; where there is none, or it does not reach here, the UTM zone here. */
function planeOf(feature: PlanFeature, ground: GroundInUse | null): Plane {
  const rings = ground && ringsInFrame(feature, ground.frame);
  if (rings) return { frame: ground.frame, rings, onGround: ground };
  const [lng, lat] = (feature.geometry.coordinates as [number, number][][])[0][0];
  const frame = zoneFrame(lng, lat);
  return { frame, rings: ringsInFrame(feature, frame) ?? [], onGround: null };
}

/** What of the ground left is too steep, and how much of it has heights at all. */
function steepGround(
  { takeOffTooSteep, tooSteepSlope }: Settings,
  { grid }: GroundInUse,
  left: readonly PlanePolygon[],
): { frameArea: number; judgedShare: number } | null {
  if (!takeOffTooSteep) return null;
  const covered = left.map((rings) => polygonCoverage(grid, rings));
  const window = windowRound(covered.map(coveredWindow));
  if (!window) return null;
  const slopes = { data: planeSlopeIn(grid, window, { size: planeWindow(grid) }), window };
  let steep = 0;
  let judged = 0;
  let all = 0;
  for (const part of covered) {
    all += part.polygonCells;
    eachCoveredRun(part, slopes, (data, from, to, share) => {
      let over = 0;
      for (let i = from; i < to; i++) if (data[i] > tooSteepSlope) over++;
      steep += over * share;
      judged += (to - from) * share;
    });
  }
  return {
    frameArea: steep * grid.cellWidth * grid.cellHeight,
    judgedShare: all > 0 ? Math.min(1, judged / all) : 0,
  };
}
