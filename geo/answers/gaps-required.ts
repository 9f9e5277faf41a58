import type { Stretch } from '../debris/fewest-gaps.ts';
import { crossingStations, gapBySeat, stretchesFacing, stretchesInside } from '../debris/gap-needs.ts'; // prettier-ignore
import type { RequiredGap } from '../debris/gap-stations.ts';
import type { Frame } from '../frame/crs-types.ts';
import { isKind, type PlanFeature } from '../plan/feature.ts';
import type { XY } from '../plan/overlay/arrangement.ts';
import type { Work } from '../work.ts';
import { heldBackAmong } from './damming.ts';
import type { Inputs } from './definition.ts';
import { inFrame, ringsInFrame } from './ground-inputs.ts';
import { gapsThatLetThrough, volumeOf } from './letting-gaps.ts';
import { lineInFrame } from './plan-on-ground.ts';

/** A seat farther off than so looks through no gap: 100 yd, common practice, no source. */
const SEAT_REACH_METERS = 91.44;
/** Stations are tried this far apart. */
const STEP = 1;

/** A berm's line in a frame, and how its stations there are to metres on the ground. */
export interface BermAlong {
  readonly frame: Frame;
  readonly line: readonly XY[];
  readonly lengthMeters: number;
  /** Frame metres to one metre on the ground. */
  readonly scale: number;
}

/**
 * Gaps that the water asks for: one where each flow line comes that a berm without gaps turns aside, and
 * those that let through what it dams among these others. None without ground.
 */
export function* waterGaps(
  inputs: Inputs,
  berm: PlanFeature<'berm'>,
  gapWidthMeters: number,
  others: readonly PlanFeature[],
): Work<RequiredGap[]> {
  const whole = { ...berm, properties: { ...berm.properties, gaps: [] } };
  const held = yield* heldBackAmong(inputs, whole, others);
  if (!held?.line) return [];
  const { line, counts, turned, crossed, around } = held;
  const had = berm.properties.gaps.map(({ stationMeters }) => stationMeters);
  const dammedCubicMeters = volumeOf(around.ponds.filter(counts));
  const own = { berm: whole, line, gapWidthMeters, had, dammedCubicMeters };
  const order = { ...own, others, counts, turned: turned ?? [], crossed };
  const { gaps } = yield* gapsThatLetThrough(around, order);
  return gaps.map(({ stationMeters, widthMeters }) => {
    return { stationMeters, widthMeters, reason: 'water' };
  });
}

/** A gap where each lane and travel corridor crosses. */
export function crossingGaps(
  inputs: Inputs,
  { frame, line, scale }: BermAlong,
  gapWidth: number,
): RequiredGap[] {
  const gaps: RequiredGap[] = [];
  for (const lane of inputs.features('lane')) {
    const other = lineInFrame({ frame }, lane);
    for (const station of other ? crossingStations(line, other) : []) {
      gaps.push({ stationMeters: station / scale, widthMeters: gapWidth, reason: 'lane' });
    }
  }
  for (const corridor of inputs.features('travel-corridor')) {
    const own = isKind(corridor, 'travel-corridor') ? (corridor.properties.widthMeters ?? 0) : 0;
    const other = lineInFrame({ frame }, corridor);
    for (const station of other ? crossingStations(line, other) : []) {
      const widthMeters = Math.max(gapWidth, own);
      gaps.push({ stationMeters: station / scale, widthMeters, reason: 'corridor' });
    }
    const rings = corridor.geometry.type === 'Polygon' ? ringsInFrame(corridor, frame) : null;
    for (const [from, to] of rings ? stretchesInside(line, rings, STEP) : []) {
      const stationMeters = (from + to) / 2 / scale;
      gaps.push({ stationMeters, widthMeters: gapWidth, reason: 'corridor' });
    }
  }
  return gaps;
}

/** Stations from, to where a seat near would look straight through a gap. */
export function barredStretches(inputs: Inputs, { frame, line, scale }: BermAlong): Stretch[] {
  return seatsOf(inputs, frame).flatMap((seat) =>
    stretchesFacing(line, seat, SEAT_REACH_METERS * scale, STEP).map(([from, to]): Stretch => [
      from / scale,
      to / scale,
    ]),
  );
}

/** A gap by each seat near, as square to the wind (from so many degrees; null: none) as can be. */
export function seatGaps(
  inputs: Inputs,
  { frame, line, scale }: BermAlong,
  barred: readonly Stretch[],
  widthMeters: number,
  fromDegrees: number | null,
): RequiredGap[] {
  const turn = fromDegrees === null ? null : (fromDegrees * Math.PI) / 180;
  const wind: XY | null = turn === null ? null : [Math.sin(turn), Math.cos(turn)];
  return seatsOf(inputs, frame).flatMap((seat): RequiredGap[] => {
    const station = gapBySeat(line, seat, wind, barred, STEP);
    return station === null ? [] : [{ stationMeters: station / scale, widthMeters, reason: 'stand' }]; // prettier-ignore
  });
}

function seatsOf(inputs: Inputs, frame: Frame): XY[] {
  return inputs.features('stand').flatMap(({ geometry }) => {
    const at = geometry.type === 'Point' ? inFrame(frame, geometry.coordinates) : null;
    return at ? [at as XY] : [];
  });
}
