import type { Grid } from '../raster/grid.ts';
import { outFor, rowsPerBand } from '../raster/row-bands.ts';
import type { Work } from '../work.ts';
import { basinLabels, type BasinLabels } from './basin-labels.ts';
import { basinPasses, PassTable, spillLevels, type BasinPasses } from './basin-passes.ts';
import { FlatBuffers, flowPointers } from './flow-pointers.ts';

/** Work arrays of a site's basins; keep them for the next run on a ground of the same size. */
export class BasinBuffers {
  pointers = new Uint8Array(0);
  labels = new Int32Array(0);
  readonly flats = new FlatBuffers();
  readonly passTable = new PassTable();

  fit(cells: number): void {
    if (this.pointers.length === cells) return;
    this.pointers = new Uint8Array(cells);
    this.labels = new Int32Array(cells);
  }
}

export interface Basins extends BasinLabels {
  readonly pointers: Uint8Array;
  readonly passes: BasinPasses;
  /** By label: where the basin would run off the site, metres. */
  readonly levels: Float32Array;
}

/**
 * The basin graph of a ground: who drains where, the passes between basins and the level that each
 * fills to. Source: Cordonnier, Bovy & Braun 2019, Earth Surf. Dynam. 7:549–562. Rim cells and
 * those beside no data drain freely, as in `fillDepressions`. Five bytes a cell beside the ground.
 */
export function* findBasins(ground: Grid, buffers = new BasinBuffers()): Work<Basins> {
  const { data, width, height } = ground;
  buffers.fit(data.length);
  const pointers = yield* flowPointers(ground, buffers.pointers, buffers.flats);
  const labelled = yield* basinLabels(pointers, width, buffers.labels);
  const passes = yield* basinPasses(data, width, height, labelled, buffers.passTable);
  return { ...labelled, pointers, passes, levels: spillLevels(passes, labelled.count) };
}

/**
 * The ground with every closed hollow filled level to its spill: the same numbers as
 * `fillDepressions`, bit for bit, without a priority queue. NaN stays NaN. Row-major, row 0 north,
 * metres. Throws RangeError for a wrong length of `out`.
 * Example: a 7 × 7 bowl of 10, 8 and 5 with a notch of 7 fills to 7.0 and holds 19.0 cell·m.
 */
export function* fillBasins(
  ground: Grid,
  basins: Pick<Basins, 'labels' | 'levels'>,
  out?: Float32Array,
): Work<Float32Array> {
  const { data, width } = ground;
  const filled = outFor(data.length, out);
  const band = rowsPerBand(width) * width;
  for (let from = 0; from < data.length; from += band) {
    const to = Math.min(data.length, from + band);
    fillSome(data, basins.labels, basins.levels, filled, from, to);
    yield { share: to / data.length, doing: 'filling low spots' };
  }
  return filled;
}

function fillSome(
  z: Float32Array,
  labels: Int32Array,
  levels: Float32Array,
  filled: Float32Array,
  from: number,
  to: number,
): void {
  for (let i = from; i < to; i++) {
    const own = z[i]!;
    const level = levels[labels[i]!]!;
    filled[i] = level > own ? level : own;
  }
}
