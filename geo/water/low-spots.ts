import type { Grid } from '../raster/grid.ts';
import { rowsPerBand } from '../raster/row-bands.ts';
import type { Work } from '../work.ts';
import { SpotTally, type FilledSpot } from './spot-tally.ts';

export interface FilledSpots {
  /** By volume, largest first, then by deepest cell's index. */
  readonly spots: readonly FilledSpot[];
  /** Per cell: 0 outside, else 1 + the place of its spot in `spots`. */
  readonly labels: Int32Array;
}

/**
 * The hollows of a ground: connected regions (eight neighbours) where the filled surface lies above
 * it at one and the same level. Nothing is left out for being small: lists are thresholded by
 * whoever shows them. Row-major, row 0 north, metres; NaN is in no spot.
 * Areas and volumes by `cellGroundAreaSquareMeters`. Time is linear: one pass that joins each cell
 * to the four neighbours before it, one that gives labels. Throws RangeError for a wrong length of
 * `filled` or `labels`.
 */
export function* findLowSpots(
  ground: Grid,
  filled: Float32Array,
  options: { readonly labels?: Int32Array } = {},
): Work<FilledSpots> {
  const { width, height, data } = ground;
  const labels = options.labels ?? new Int32Array(width * height);
  for (const length of [filled.length, labels.length]) {
    if (length !== data.length) {
      throw new RangeError(`an array of ${length} for ${data.length} cells`);
    }
  }
  const tally = new SpotTally();
  const band = Math.max(1, rowsPerBand(width) >> 1);
  for (let row = 0; row < height; row += band) {
    const end = Math.min(height, row + band);
    joinRows(data, filled, labels, width, row, end, tally);
    yield { share: (0.7 * end) / height, doing: 'finding low spots' };
  }
  const { spots, rankOf } = tally.finish(filled, ground.cellGroundAreaSquareMeters);
  for (let row = 0; row < height; row += band) {
    const end = Math.min(height, row + band);
    relabel(labels, row * width, end * width, rankOf);
    yield { share: 0.7 + (0.3 * end) / height, doing: 'finding low spots' };
  }
  return { spots, labels };
}

function relabel(labels: Int32Array, from: number, to: number, rankOf: Int32Array): void {
  for (let i = from; i < to; i++) {
    if (labels[i] !== 0) labels[i] = rankOf[labels[i]!]!;
  }
}

function joinRows(
  z: Float32Array,
  filled: Float32Array,
  labels: Int32Array,
  width: number,
  from: number,
  to: number,
  tally: SpotTally,
): void {
  for (let row = from; row < to; row++) joinRow(z, filled, labels, width, row, tally);
}

function joinRow(
  z: Float32Array,
  filled: Float32Array,
  labels: Int32Array,
  width: number,
  row: number,
  tally: SpotTally,
): void {
  const start = row * width;
  for (let column = 0; column < width; column++) {
    const cell = start + column;
    const level = filled[cell]!;
    if (!(level > z[cell]!)) {
      labels[cell] = 0;
      continue;
    }
    let label = 0;
    if (column > 0) label = joined(filled, labels, cell - 1, level, label, tally);
    if (row > 0) {
      const above = cell - width;
      if (column > 0) label = joined(filled, labels, above - 1, level, label, tally);
      label = joined(filled, labels, above, level, label, tally);
      if (column < width - 1) label = joined(filled, labels, above + 1, level, label, tally);
    }
    if (label === 0) label = tally.open();
    labels[cell] = label;
    tally.add(label, cell, level - z[cell]!);
  }
}

/** The label to go on with: the neighbour's, made one with ours, when it fills to the same level. */
function joined(
  filled: Float32Array,
  labels: Int32Array,
  neighbour: number,
  level: number,
  label: number,
  tally: SpotTally,
): number {
  const theirs = labels[neighbour]!;
  if (theirs === 0 || theirs === label || filled[neighbour] !== level) return label;
  if (label !== 0) tally.join(label, theirs);
  return label === 0 ? theirs : label;
}
