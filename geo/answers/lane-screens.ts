import type { ExposedStretch } from '../approach/lane-walk.ts';
import { lineLength, placeAt } from '../plan/line-geometry.ts';
import type { XY } from '../plan/overlay/arrangement.ts';
import { offsetInPlane } from '../plan/construct/offset-line.ts';
import type { Grid } from '../raster/grid.ts';
import type { Lookout } from '../sight/lookout.ts';
import { screenLength } from '../sight/screen-length.ts';

/** A berm beside a lane that would hide a stretch of it that is seen. */
export interface LaneScreen {
  /** Stations of the stretch, metres from where the lane is entered. */
  readonly fromMeters: number;
  readonly toMeters: number;
  readonly side: 'left' | 'right';
  /** Length of berm at full height. */
  readonly bermMeters: number;
  readonly heightMeters: number;
  /** Share of the stretch that eyes see now and none would see any more. */
  readonly hiddenShare: number;
}

export interface Watched {
  readonly ground: Grid;
  readonly eyes: readonly Lookout[];
  readonly walkerMeters: number;
}

/** The crest from the middle of the lane: room to walk past half the foot of a berm (ours). */
export const BESIDE_METERS = 7;
/** The berm may run on so far past both ends of a stretch: eyes look across at a slant. */
const PAST_METERS = 30;
const STATION_METERS = 5;
/** A berm that hides less of a stretch is not worth the pushing (ours). */
const LEAST_SHARE = 0.25;

/**
 * For each stretch of a lane that is seen, the berm beside it that would hide most of it, by
 * `screenLength` along the lane's own line set off to either side; none where neither side hides a
 * quarter. Stations in metres along the lane, which is in frame metres. NaN ground cuts no sight.
 * Throws as `screenLength` does. Example: eyes to the left only: a berm on the left.
 */
export function laneScreens(
  line: readonly XY[],
  exposed: readonly ExposedStretch[],
  { ground, eyes, walkerMeters }: Watched,
  heightMeters: number,
): LaneScreen[] {
  const length = lineLength(line);
  return exposed.flatMap(({ why, fromMeters, toMeters }): LaneScreen[] => {
    if (why !== 'seen' || !(toMeters - fromMeters > STATION_METERS)) return [];
    const stations = placesAlong(line, fromMeters, toMeters);
    const course = placesAlong(line, Math.max(0, fromMeters - PAST_METERS), Math.min(length, toMeters + PAST_METERS)); // prettier-ignore
    const found = (['left', 'right'] as const).flatMap((side) =>
      offsetInPlane(course, BESIDE_METERS, side).map((wall): LaneScreen => {
        const screen = screenLength(ground, { eyes, stations, walkerMeters, line: wall, wallMeters: heightMeters }); // prettier-ignore
        const hidden = screen.hidden.filter(Boolean).length;
        const bermMeters = screen.from === null ? 0 : screen.to! - screen.from;
        return { fromMeters, toMeters, side, bermMeters, heightMeters, hiddenShare: hidden / stations.length }; // prettier-ignore
      }),
    );
    const best = found.toSorted((a, b) => b.hiddenShare - a.hiddenShare)[0];
    return best && best.bermMeters > 0 && best.hiddenShare >= LEAST_SHARE ? [best] : [];
  });
}

function placesAlong(line: readonly XY[], from: number, to: number): XY[] {
  const count = Math.max(1, Math.ceil((to - from) / STATION_METERS));
  return Array.from({ length: count + 1 }, (_, i) => {
    return placeAt(line, from + ((to - from) * i) / count).at;
  });
}
