import { cellAt, sampleBilinear } from '../raster/sample.ts';
import type { Grid } from '../raster/grid.ts';
import type { XY } from '../plan/overlay/arrangement.ts';
import { neededFor } from './eye-needed.ts';
import { eyeOn, type Lookout } from './lookout.ts';

/** A wall that could stand along a line, against eyes that see a stretch of walk. */
export interface ScreenQuestion {
  readonly eyes: readonly Lookout[];
  /** Places on the stretch, frame metres. */
  readonly stations: readonly XY[];
  readonly walkerMeters: number;
  /** Where the wall could stand, frame metres, and how high over the ground. */
  readonly line: readonly XY[];
  readonly wallMeters: number;
}

export interface ScreenLength {
  /** Sight lines between an eye and a station that nothing cuts now. */
  readonly open: number;
  /** Of these, how many the wall cuts, and how many cross its line but pass over it. */
  readonly cut: number;
  readonly over: number;
  /** The run of the line that cuts all that can be cut, metres from its start; null for nothing. */
  readonly from: number | null;
  readonly to: number | null;
  /** A wall this high would also cut those that pass over; null where none does. */
  readonly higherMeters: number | null;
  /** By station: seen now, and hidden from every eye once the run stands. */
  readonly hidden: readonly boolean[];
}

/**
 * How much of a wall along a line would hide a walk: every open line of sight, from eye to the top of
 * the walker, is held against the wall where it crosses the line. Lines as in `viewshed`, between the
 * middles of cells. Heights over the ground between cells' middles. Metres.
 * Throws RangeError for a line of one point or a wall of no height, and as `eyeOn` does.
 * Example: an eye 50 m before, a walk of 40 m 50 m behind a wall on flat ground: 20 m of it.
 */
export function screenLength(ground: Grid, question: ScreenQuestion): ScreenLength {
  const { eyes, stations, walkerMeters, line, wallMeters } = question;
  if (line.length < 2) throw new RangeError(`a line of ${line.length} points`);
  if (!(wallMeters > 0)) throw new RangeError(`a wall of ${wallMeters} m`);
  let [open, cut, over, higher] = [0, 0, 0, 0];
  let [from, to] = [Infinity, -Infinity];
  const isSeen = stations.map(() => false);
  const isUncut = stations.map(() => false);
  for (const lookout of eyes) {
    stations.forEach((station, i) => {
      const sight = openSight(ground, lookout, station, walkerMeters);
      if (sight === null) return;
      open++;
      isSeen[i] = true;
      const crossing = lowestCrossing(ground, sight, line);
      if (crossing !== null && crossing.overGround <= wallMeters) {
        cut++;
        from = Math.min(from, crossing.station);
        to = Math.max(to, crossing.station);
        return;
      }
      isUncut[i] = true;
      if (crossing === null) return;
      over++;
      higher = Math.max(higher, crossing.overGround);
    });
  }
  return {
    open,
    cut,
    over,
    from: cut > 0 ? from : null,
    to: cut > 0 ? to : null,
    higherMeters: over > 0 ? higher : null,
    hidden: isSeen.map((seen, i) => seen && !isUncut[i]),
  };
}

interface SightLine {
  readonly from: XY;
  readonly to: XY;
  /** Heights at both ends, metres. */
  readonly fromHeight: number;
  readonly toHeight: number;
}

/** The line from the eye to the top of a walker; null where it is cut already or out of reach. */
function openSight(
  ground: Grid,
  lookout: Lookout,
  station: XY,
  walkerMeters: number,
): SightLine | null {
  const eye = eyeOn(ground, { ...lookout, eyeMeters: 0 });
  const cell = cellAt(ground, station[0], station[1]);
  if (eye === null || cell < 0) return null;
  const row = Math.floor(cell / ground.width);
  const column = cell - row * ground.width;
  const middle = (c: number, r: number): XY => [
    ground.west + (c + 0.5) * ground.cellWidth,
    ground.north - (r + 0.5) * ground.cellHeight,
  ];
  const from = middle(eye.column, eye.row);
  const to = middle(column, row);
  if (Math.hypot(to[0] - from[0], to[1] - from[1]) > lookout.radiusMeters) return null;
  const needed = neededFor(ground, eye, walkerMeters, column, row);
  if (!(needed <= lookout.eyeMeters)) return null;
  const fromHeight = eye.height + lookout.eyeMeters;
  return { from, to, fromHeight, toHeight: ground.data[cell]! + walkerMeters };
}

/** Of all places where a sight line crosses a line, the one where it is lowest over the ground. */
function lowestCrossing(ground: Grid, sight: SightLine, line: readonly XY[]) {
  const { from, to, fromHeight, toHeight } = sight;
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  let best: { station: number; overGround: number } | null = null;
  let gone = 0;
  for (let i = 0; i + 1 < line.length; i++) {
    const [a, b] = [line[i]!, line[i + 1]!];
    const [ex, ey] = [b[0] - a[0], b[1] - a[1]];
    const length = Math.hypot(ex, ey);
    const turn = dx * ey - dy * ex;
    const [ax, ay] = [a[0] - from[0], a[1] - from[1]];
    const along = (ax * ey - ay * ex) / turn;
    const share = (ax * dy - ay * dx) / turn;
    if (turn !== 0 && along > 0 && along < 1 && share >= 0 && share <= 1) {
      const [x, y] = [from[0] + dx * along, from[1] + dy * along];
      const overGround =
        fromHeight + (toHeight - fromHeight) * along - sampleBilinear(ground, x, y);
      if (overGround < (best?.overGround ?? Infinity)) {
        best = { station: gone + share * length, overGround };
      }
    }
    gone += length;
  }
  return best;
}
