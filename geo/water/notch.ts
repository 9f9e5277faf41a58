import { cutChannel, type Channel } from '../ground/earthworks.ts';
import { lineLength, placeAt } from '../plan/line-geometry.ts';
import type { Grid } from '../raster/grid.ts';
import { cellAt, sampleBilinear } from '../raster/sample.ts';
import type { Work } from '../work.ts';
import { checkSection, usualSection, type NotchSection } from './notch-section.ts';
import { notchVolume, type NotchVolume } from './notch-volume.ts';
import { daylightAt, daylightReach } from './notch-reach.ts';

type XY = readonly [number, number];

/** `{low, likely, high}`, cubic metres. */
export interface VolumeRange {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}

/** Where a stake goes. */
export interface NotchStation {
  /** Along the notch from the low spot, metres. */
  readonly stationMeters: number;
  readonly at: XY;
  readonly groundMeters: number;
  readonly bottomMeters: number;
  /** How far the bottom lies under the ground on the centreline; 0 where it lies over it. */
  readonly cutMeters: number;
  /** From edge to edge where the sides meet the ground, metres; 0 where nothing is cut. */
  readonly topWidthMeters: number;
}

export interface NotchDesign {
  /** Centreline, frame metres, from the low spot outward. */
  readonly line: readonly XY[];
  readonly lengthMeters: number;
  readonly section: NotchSection;
  readonly startBottomMeters: number;
  readonly stations: readonly NotchStation[];
  readonly maxCutMeters: number;
  /** Station of the last cut on the centreline. */
  readonly lastCutMeters: number;
  readonly bankCubicMeters: VolumeRange;
  /** The same once dug up. */
  readonly looseCubicMeters: VolumeRange;
  /** Farthest that the cut runs out from the centreline, metres. */
  readonly reachMeters: number;
  /** The bottom comes out on top of the ground at the far end. */
  readonly daylights: boolean;
  /** The sides meet the ground everywhere; false where it rises as steeply as they do. */
  readonly sidesMeetGround: boolean;
  /** Codes of barred cells that are dug into, rising. */
  readonly touches: readonly number[];
}

export interface NotchOptions {
  readonly section?: NotchSection;
  /** Height of the bottom at the start; the ground's own when not given. */
  readonly startBottomMeters?: number;
  /** Between stakes; 25 ft when not given. */
  readonly stationMeters?: number;
  /** How far the cut depth may be out by the survey's error, metres; 0.05 when not given. */
  readonly cutErrorMeters?: number;
  /** Loose volume over bank volume; 1.25 (loam, handbook §4.4) when not given. */
  readonly swellRatio?: number;
  /** As in `drainPath`: what is dug into is named in `touches`. */
  readonly blocked?: Uint8Array | null;
}

/** Sides are followed no farther out than this, metres. */
const MAX_REACH = 40;
/** A cut shallower than this is none, metres. */
const LEAST_CUT = 0.001;

/**
 * A notch along a line (frame metres, from the low spot outward): stakes, cuts, volumes. The bottom
 * falls from `startBottomMeters` by the section's grade; it is flat across, and the sides run out
 * from its edges to where they meet the ground, round at both ends. Bank volume is that of the
 * body between the notch's surface and the ground, taken on a lattice of half cells at most; `low`
 * and `high` are the same with the bottom raised and lowered by `cutErrorMeters`. Lengths are
 * frame metres; volumes are on the true ground.
 * Throws RangeError for a line without length, or one that starts where there is no data.
 */
export function* designNotch(
  ground: Grid,
  line: readonly XY[],
  options: NotchOptions = {},
): Work<NotchDesign> {
  const { section = usualSection, stationMeters = 25 * 0.3048, swellRatio = 1.25 } = options;
  const { cutErrorMeters = 0.05, blocked = null } = options;
  checkSection(section);
  const lengthMeters = lineLength(line);
  const start = options.startBottomMeters ?? sampleBilinear(ground, ...line[0]!);
  if (!(lengthMeters > 0) || Number.isNaN(start)) {
    throw new RangeError(`a notch of ${lengthMeters} m from a height of ${start} m`);
  }
  checkOptions(stationMeters, swellRatio, cutErrorMeters);
  const channel = (lowered: number, reach: number): Channel => ({
    line,
    halfBottom: section.bottomWidthMeters / 2,
    sideRun: section.sideRun,
    bottomAt: (station) => start - lowered - section.gradeRatio * station,
    reach,
  });
  const volumes: NotchVolume[] = [];
  for (const lowered of [-cutErrorMeters, 0, cutErrorMeters]) {
    const { meters } = daylightReach(ground, channel(lowered, 0), MAX_REACH);
    volumes.push(yield* notchVolume(ground, channel(lowered, meters), blocked));
  }
  const [low, likely, high] = volumes.map((v) => v.cubicMeters) as [number, number, number];
  const middle = channel(0, MAX_REACH);
  const reach = daylightReach(ground, middle, MAX_REACH);
  const cuts = cutsAlong(ground, middle, lengthMeters);
  return {
    line,
    lengthMeters,
    section,
    startBottomMeters: start,
    stations: stakes(ground, middle, lengthMeters, stationMeters),
    ...cuts,
    bankCubicMeters: { low, likely, high },
    looseCubicMeters: {
      low: low * swellRatio,
      likely: likely * swellRatio,
      high: high * swellRatio,
    },
    reachMeters: reach.meters,
    sidesMeetGround: reach.everywhere,
    touches: volumes[1]!.touches,
  };
}

/**
 * Cuts a designed notch into `out`, a copy of the ground or of what else lies there: every cell
 * whose centre is under the ground within its sides, and every cell that the centreline crosses, so
 * that water finds its way also where cells are wider than the bottom. Nothing is raised; NaN stays
 * NaN. Once cut, the cell where the notch starts holds no water.
 * Throws RangeError for an `out` of another length.
 */
export function cutNotch(ground: Grid, design: NotchDesign, out: Float32Array): void {
  if (out.length !== ground.data.length) {
    throw new RangeError(`out holds ${out.length} cells, not ${ground.data.length}`);
  }
  const { line, section, startBottomMeters, reachMeters, lengthMeters } = design;
  const bottomAt = (station: number) => startBottomMeters - section.gradeRatio * station;
  const halfBottom = section.bottomWidthMeters / 2;
  cutChannel(ground, out, { line, halfBottom, sideRun: section.sideRun, bottomAt, reach: reachMeters }); // prettier-ignore
  const count = Math.ceil((8 * lengthMeters) / Math.min(ground.cellWidth, ground.cellHeight));
  for (let i = 0; i <= count; i++) {
    const station = (lengthMeters * i) / count;
    const cell = cellAt(ground, ...placeAt(line, station).at);
    if (cell >= 0 && out[cell]! > bottomAt(station)) out[cell] = bottomAt(station);
  }
}

function checkOptions(station: number, swell: number, error: number): void {
  if (!(station > 0)) throw new RangeError(`stations every ${station} m`);
  if (!(swell >= 1 && swell < Infinity)) throw new RangeError(`a swell of ${swell}`);
  if (!(error >= 0 && error < Infinity)) throw new RangeError(`a cut error of ${error} m`);
}

/** Stakes at every so many metres, and at the far end. */
function stakes(ground: Grid, channel: Channel, length: number, every: number): NotchStation[] {
  const count = Math.ceil(length / every - 1e-9);
  return Array.from({ length: count + 1 }, (_, i): NotchStation => {
    const stationMeters = Math.min(length, i * every);
    const { at } = placeAt(channel.line, stationMeters);
    const groundMeters = sampleBilinear(ground, ...at);
    const bottomMeters = channel.bottomAt(stationMeters);
    const { leftMeters, rightMeters } = daylightAt(ground, channel, stationMeters, MAX_REACH);
    return {
      stationMeters,
      at,
      groundMeters,
      bottomMeters,
      cutMeters: Math.max(0, groundMeters - bottomMeters) || 0,
      topWidthMeters: leftMeters + rightMeters,
    };
  });
}

/** The deepest cut, the last one, and whether the bottom is out of the ground at the far end. */
function cutsAlong(
  ground: Grid,
  channel: Channel,
  length: number,
): Pick<NotchDesign, 'maxCutMeters' | 'lastCutMeters' | 'daylights'> {
  const count = Math.ceil((2 * length) / Math.min(ground.cellWidth, ground.cellHeight));
  let maxCutMeters = 0;
  let lastCutMeters = 0;
  let cut = 0;
  for (let i = 0; i <= count; i++) {
    const station = (length * i) / count;
    const { at } = placeAt(channel.line, station);
    cut = sampleBilinear(ground, ...at) - channel.bottomAt(station);
    maxCutMeters = Math.max(maxCutMeters, cut || 0);
    if (cut > LEAST_CUT) lastCutMeters = station;
  }
  return { maxCutMeters, lastCutMeters, daylights: !(cut > LEAST_CUT) };
}
