import type { PlanFeature } from '../plan/feature.ts';
import { placeAt } from '../plan/line-geometry.ts';
import { dammedWater, type DammedPond } from '../water/dammed-water.ts';
import { partOf, type Work } from '../work.ts';
import type { LettingGap, LettingGaps, TurnedFlow } from './dam-answers.ts';
import type { CutAcross } from './cuts-across.ts';
import type { DamWindow } from './dam-window.ts';
import { planOnGround } from './plan-on-ground.ts';
import { centreOf, nearestStation, type DamLine } from './turned-flows.ts';

/** A berm that needs more than so many gaps to drain is in the wrong place. */
const MOST_GAPS = 8;
/** Places tried for a gap along a pond. */
const TRIED = 12;
/** What a few shallow cells of it hold is not worth another gap. */
const LITTLE_LEFT = 0.1;

const DOING = 'trying gaps in a berm';

interface LettingOrder {
  readonly berm: PlanFeature<'berm'>;
  readonly line: DamLine;
  readonly others: readonly PlanFeature[];
  readonly counts: (pond: DammedPond) => boolean;
  readonly turned: readonly TurnedFlow[];
  /** Ditches and notches that it lies across. */
  readonly crossed: readonly CutAcross[];
  readonly gapWidthMeters: number;
  /** Stations of gaps that it has had: one that does as well, or nearly, is taken first. */
  readonly had: readonly number[];
  /** What it dams without any gap: a tenth of that may be left, however many gaps it has. */
  readonly dammedCubicMeters: number;
}

/**
 * Gaps to be added to a berm as it is, so that it lets water through: one where each ditch or notch is that it
 * lies across, one where each flow line comes that it turns aside and no gap is near, then, of a dozen places along the largest pond that is left, the one
 * that lets most through, each tried on the ground, until a tenth of what it dams without any gap is left
 * or less. So a berm that has its gaps is asked for no others because it got wider by them.
 */
export function* gapsThatLetThrough(around: DamWindow, order: LettingOrder): Work<LettingGaps> {
  const { line, gapWidthMeters: widthMeters, had } = order;
  const little = LITTLE_LEFT * order.dammedCubicMeters;
  const drawn = order.berm.properties.gaps.map(({ stationMeters }) => stationMeters);
  const most = Math.max(0, MOST_GAPS - drawn.length);
  const half = widthMeters / 2;
  const held = (station: number) => Math.min(line.lengthMeters - half, Math.max(half, station));
  const stations: number[] = [];
  for (const { stationMeters } of order.crossed) {
    const isIn = (one: number) => Math.abs(held(one) - stationMeters) < half;
    if (stations.some(isIn) || stations.length >= most) continue;
    stations.push(held(had.find(isIn) ?? stationMeters));
  }
  for (const { stationMeters } of order.turned.filter((one) => isWorthAGap(one, widthMeters))) {
    const serves = (one: number) => Math.abs(one - stationMeters) < 2 * widthMeters;
    if ([...drawn, ...stations].some(serves) || stations.length >= most) continue;
    stations.push(held(had.find(serves) ?? stationMeters));
  }
  const begun = stations.length;
  // As far as if every gap that is allowed were needed; mostly it ends before that.
  const shareAt = (gaps: number) => (gaps - begun) / Math.max(1, most - begun);
  let ponds = yield* partOf(pondsWith(around, order, stations), 0, 0, DOING);
  while (volumeOf(ponds) > little && stations.length < most) {
    const own = had.map(held).filter((station) => !stations.includes(station));
    const [from, to] = [shareAt(stations.length), shareAt(stations.length + 1)];
    const mid = own.length > 0 ? (from + to) / 2 : from;
    let best = yield* partOf(bestOf(own, around, order, stations), from, mid);
    if (!best || volumeOf(best.ponds) > little) {
      const places = placesAlong(around, line, ponds[0]!).map(held);
      const other = yield* partOf(bestOf(places, around, order, stations), mid, to);
      const isBetter = !best || (other && volumeOf(other.ponds) < volumeOf(best.ponds) - little);
      if (isBetter) best = other;
    }
    if (!best || volumeOf(best.ponds) >= volumeOf(ponds)) break;
    stations.push(best.station);
    ponds = best.ponds;
  }
  const gaps = stations
    .sort((a, b) => a - b)
    .map((stationMeters): LettingGap => {
      const { at } = placeAt(line.line, stationMeters * line.frameMetersPerMeter);
      return { stationMeters, widthMeters, at: around.sub.frame.toLngLat(at[0], at[1]) };
    });
  return {
    gaps,
    leftAreaSquareMeters: ponds.reduce((sum, pond) => sum + pond.areaSquareMeters, 0),
    leftVolumeCubicMeters: volumeOf(ponds),
    leftMaxDepthMeters: Math.max(0, ...ponds.map(({ maxDepthMeters }) => maxDepthMeters)),
    isThrough: volumeOf(ponds) <= little,
  };
}

/** The place for one more gap that leaves the least dammed; null of no places. */
function* bestOf(
  places: readonly number[],
  around: DamWindow,
  order: LettingOrder,
  stations: readonly number[],
): Work<{ station: number; ponds: DammedPond[] } | null> {
  let best: { station: number; ponds: DammedPond[] } | null = null;
  for (const [i, station] of places.entries()) {
    const trial = pondsWith(around, order, [...stations, station]);
    const ponds = yield* partOf(trial, i / places.length, (i + 1) / places.length, DOING);
    if (!best || volumeOf(ponds) < volumeOf(best.ponds)) best = { station, ponds };
    yield { share: (i + 1) / places.length, doing: DOING };
  }
  return best;
}

/** Flow that is moved by little more than a gap's width needs none. */
function isWorthAGap({ passesBy, movedMeters }: TurnedFlow, gapWidth: number): boolean {
  return passesBy !== 'a-gap' && movedMeters > 2 * gapWidth;
}

/** Cubic metres in all. */
export function volumeOf(ponds: readonly DammedPond[]): number {
  return ponds.reduce((sum, pond) => sum + pond.volumeCubicMeters, 0);
}

function* pondsWith(
  { sub, before, ponds: now }: DamWindow,
  { berm, others, counts, gapWidthMeters: widthMeters }: LettingOrder,
  stations: readonly number[],
): Work<DammedPond[]> {
  if (stations.length === 0) return now.filter(counts);
  const added = stations.map((stationMeters) => ({ stationMeters, widthMeters }));
  const properties = { ...berm.properties, gaps: [...berm.properties.gaps, ...added] };
  const after = planOnGround(sub, [...others, { ...berm, properties } as PlanFeature]);
  const { ponds } = yield* dammedWater({ ...sub.grid, data: before }, after);
  return ponds.filter(counts);
}

/** Stations spread along the part of the line that a pond lies against. */
function placesAlong({ sub }: DamWindow, dam: DamLine, pond: DammedPond): number[] {
  const stations = pond.cells.map((cell) => nearestStation(dam.line, centreOf(sub.grid, cell)));
  const from = Math.min(...stations) / dam.frameMetersPerMeter;
  const to = Math.max(...stations) / dam.frameMetersPerMeter;
  return Array.from({ length: TRIED }, (_, i) => from + ((i + 0.5) * (to - from)) / TRIED);
}
