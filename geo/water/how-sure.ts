import type { Grid } from '../raster/grid.ts';
import { partOf, type Work } from '../work.ts';
import { BasinBuffers, fillBasins, findBasins } from './fill-basins.ts';
import type { FilledSpots } from './low-spots.ts';
import { mixedSeed, NoiseBuffers, noiseField } from './noise-field.ts';
import { spotWindows, type SpotWindow } from './spot-windows.ts';
import type { SurveyNoise } from './survey-noise.ts';

export interface HowSureOptions {
  /** What a low spot must be to be listed: depth somewhere in it, and area under water. */
  readonly minDepthMeters: number;
  readonly minAreaSquareMeters: number;
  /** Surveys made up; default 20. */
  readonly runs?: number;
  readonly seed?: number;
  readonly buffers?: HowSureBuffers;
}

export interface HowSure {
  /** By place in `asked`: in what share of the runs the low spot was still there, 0 to 1. */
  readonly shares: readonly number[];
  readonly runs: number;
  /** Cells filled again in each run. */
  readonly cellsARun: number;
}

/** Work arrays of `howSure`; keep them for the next time. */
export class HowSureBuffers {
  readonly noise = new NoiseBuffers();
  /** One for each window: they are made for one size. */
  readonly basins: BasinBuffers[] = [];
  private ground = new Float32Array(0);
  private filled = new Float32Array(0);

  fit(cells: number): { readonly ground: Float32Array; readonly filled: Float32Array } {
    if (this.ground.length < cells) {
      this.ground = new Float32Array(cells);
      this.filled = new Float32Array(cells);
    }
    return { ground: this.ground.subarray(0, cells), filled: this.filled.subarray(0, cells) };
  }
}

/** Ground kept round a spot, so that its way out lies inside: so much, or three ranges. */
const MARGIN_METERS = 30;

const DOING = 'trying the survey’s error';

/**
 * How often each low spot is there when the survey's error is made up anew: seeded Monte Carlo
 * (Lindsay & Creed 2006, Hydrol. Process. 20:3561, as to the idea). Each run adds a short-range and
 * a long-range random field to the ground, fills it, and asks of each spot of the unperturbed
 * ground whether, within its own outline, water still stands at least `minDepthMeters` deep
 * somewhere and at least `minAreaSquareMeters` wide altogether.
 *
 * Only windows round the spots are filled, with 30 m or three short ranges of ground about them: a
 * spot that only backs up from a far sill outside its window counts as there less often than it
 * should. Heights row-major, row 0 north, NaN no data. The same seed gives the same shares.
 * Stopping between runs loses nothing but the answer. Work arrays beside the ground: 21 bytes per
 * cell of the largest window, 5 per cell of the others.
 * @param low the low spots of the ground, `asked` the labels (from 1) of those to ask about
 * Throws RangeError for runs below 1 or a label that is not there.
 * Example: a hollow 1 m deep under noise of 0.05 m gives 1; one of 0.06 m something between.
 */
export function* howSure(
  ground: Grid,
  low: FilledSpots,
  asked: readonly number[],
  noise: SurveyNoise,
  options: HowSureOptions,
): Work<HowSure> {
  const { runs = 20, seed = 1, buffers = new HowSureBuffers() } = options;
  if (!Number.isInteger(runs) || runs < 1) throw new RangeError(`${runs} runs`);
  const wanted = new Uint8Array(low.spots.length + 1);
  for (const label of asked) {
    if (!low.spots[label - 1]) throw new RangeError(`no low spot with label ${label}`);
    wanted[label] = 1;
  }
  const margin = Math.max(MARGIN_METERS, 3 * noise.shortRangeMeters);
  const windows = yield* partOf(spotWindows(ground, low.labels, wanted, margin), 0, 0.02, DOING);
  const there = new Int32Array(wanted.length);
  const tally = new RunTally(wanted.length);
  const least = options.minAreaSquareMeters / ground.cellGroundAreaSquareMeters;
  for (let run = 0; run < runs; run++) {
    tally.clear();
    for (const [w, window] of windows.entries()) {
      const from = 0.02 + (0.98 * (run + w / windows.length)) / runs;
      const to = 0.02 + (0.98 * (run + (w + 1) / windows.length)) / runs;
      buffers.basins[w] ??= new BasinBuffers();
      const perturbed = perturb(ground, window, noise, mixedSeed(seed, run), buffers);
      const grid = yield* partOf(perturbed, from, from + (to - from) / 2, DOING);
      const { filled } = buffers.fit(grid.data.length);
      const basins = findBasins(grid, buffers.basins[w]);
      const found = yield* partOf(basins, from + (to - from) / 2, to, DOING);
      yield* partOf(fillBasins(grid, found, filled), to, to, DOING);
      tally.count(grid, filled, ground.width, window, low.labels);
    }
    for (const label of asked) {
      const deep = tally.deepest[label]! >= options.minDepthMeters;
      if (deep && tally.wet[label]! >= least) there[label]!++;
    }
  }
  return {
    shares: asked.map((label) => there[label]! / runs),
    runs,
    cellsARun: windows.reduce((sum, { width, height }) => sum + width * height, 0),
  };
}

/** A window of the ground with both parts of the error on it. */
function* perturb(
  ground: Grid,
  window: SpotWindow,
  noise: SurveyNoise,
  seed: number,
  buffers: HowSureBuffers,
): Work<Grid> {
  const { row, column, width, height } = window;
  const { ground: data } = buffers.fit(width * height);
  for (let r = 0; r < height; r++) {
    const start = (row + r) * ground.width + column;
    data.set(ground.data.subarray(start, start + width), r * width);
  }
  const here = mixedSeed(seed, row * ground.width + column);
  const { cellWidth, cellHeight } = ground;
  const shape = { width, height, cellWidth, cellHeight };
  const parts = [
    [noise.shortMeters, noise.shortRangeMeters],
    [noise.longMeters, noise.longRangeMeters],
  ] as const;
  for (const [i, [meters, range]] of parts.entries()) {
    if (!(meters > 0)) continue;
    const work = noiseField(shape, range, mixedSeed(here, i), buffers.noise);
    const field = yield* partOf(work, i / 2, (i + 1) / 2, DOING);
    for (let k = 0; k < data.length; k++) data[k]! += meters * field[k]!;
  }
  return { ...ground, width, height, data };
}

/** What one run leaves in the outlines of the spots, by label. */
class RunTally {
  readonly wet: Int32Array;
  readonly deepest: Float64Array;

  constructor(labels: number) {
    this.wet = new Int32Array(labels);
    this.deepest = new Float64Array(labels);
  }

  clear(): void {
    this.wet.fill(0);
    this.deepest.fill(0);
  }

  count(
    { data, width, height }: Grid,
    filled: Float32Array,
    groundWidth: number,
    { row, column }: SpotWindow,
    labels: Int32Array,
  ): void {
    for (let r = 0; r < height; r++) {
      const start = (row + r) * groundWidth + column;
      for (let c = 0; c < width; c++) {
        const label = labels[start + c]!;
        if (label === 0) continue;
        const depth = filled[r * width + c]! - data[r * width + c]!;
        if (!(depth > 0)) continue;
        this.wet[label]!++;
        if (depth > this.deepest[label]!) this.deepest[label] = depth;
      }
    }
  }
}
