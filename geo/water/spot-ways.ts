import type { GridPlace } from '../raster/grid.ts';
import type { Work } from '../work.ts';
import type { FlowCatchments } from './flow-lines.ts';
import { pointerSteps } from './pointer-codes.ts';
import { spotOutlet } from './spot-outlet.ts';
import { Upstream } from './upstream.ts';

/** The ground that drains into one low spot. */
export interface SpotWay {
  /** By D-infinity, the spot itself included, square metres. */
  readonly catchmentSquareMeters: number;
  /** The ground that this is (`Upstream`), over other spots too. */
  readonly catchmentCells: Int32Array;
  /** The longest way that rain takes to the spot's edge, metres of the frame. */
  readonly lengthMeters: number;
  /** From its beginning to the spot's spill, metres. */
  readonly fallMeters: number;
  /** Where it begins; a cell of the spot where nothing else drains into it. */
  readonly farthestCell: number;
  /** Where it runs over (`spotOutlet`). */
  readonly outletCell: number;
}

export interface SpotWays {
  readonly ways: readonly SpotWay[];
}

/**
 * Catchment and longest way of the low spots with the given labels, in their order: the catchment
 * by D-infinity, the way by the eight-neighbour pointers, both walked upstream from the spot on the
 * filled ground. Filled hollows on the way are crossed as if they were brim full. Ties for the
 * farthest cell: the lowest index.
 * @param filled the ground filled, metres, row-major, row 0 north, NaN no data
 * @param flow of the filled ground
 * @param labels per cell: 0, or 1 + the place of its spot
 * Throws RangeError for arrays of another length.
 * Example: a pit 20 m below the head of a trough has a longest way of about 20 m.
 */
export function* spotWays(
  place: GridPlace,
  filled: Float32Array,
  flow: FlowCatchments,
  labels: Int32Array,
  wanted: readonly number[],
): Work<SpotWays> {
  for (const { length } of [filled, labels, flow.pointers]) {
    if (length !== place.width * place.height) throw new RangeError(`an array of ${length}`);
  }
  const ownCells = new Map(wanted.map((label): [number, number[]] => [label, []]));
  const band = 1 << 19;
  for (let from = 0; from < labels.length; from += band) {
    const to = Math.min(labels.length, from + band);
    for (let cell = from; cell < to; cell++) {
      if (labels[cell] !== 0) ownCells.get(labels[cell]!)?.push(cell);
    }
    yield { share: (0.2 * to) / labels.length, doing: 'finding the cells of low spots' };
  }
  const ways: SpotWay[] = [];
  const upstream = new Upstream(place, filled, flow.pointers);
  for (const [k, label] of wanted.entries()) {
    const cells = ownCells.get(label)!;
    const walk = new UpstreamWalk(place, flow.pointers, labels, label);
    walk.begin(cells);
    while (walk.go(65_536)) {
      yield { share: 0.2 + (0.8 * k) / wanted.length, doing: 'walking up to the divides' };
    }
    const farthest = walk.farthest >= 0 ? walk.farthest : (cells[0] ?? -1);
    const catchment = yield* upstream.into(cells);
    ways.push({
      catchmentSquareMeters: catchment.areaSquareMeters,
      catchmentCells: catchment.cells,
      lengthMeters: walk.farthestMeters,
      fallMeters: farthest < 0 ? 0 : filled[farthest]! - filled[cells[0]!]!,
      farthestCell: farthest,
      outletCell: spotOutlet(place.width, flow, labels, cells),
    });
  }
  return { ways };
}

/** Walks against the pointers from a spot's cells to where the last rain falls that comes there. */
class UpstreamWalk {
  farthest = -1;
  farthestMeters = 0;
  private length = 0;
  private cells = new Int32Array(4096);
  private meters = new Float64Array(4096);
  private readonly steps: Int32Array;
  private readonly stepMeters: Float64Array;

  constructor(
    { width, cellWidth, cellHeight }: GridPlace,
    private readonly pointers: Uint8Array,
    private readonly labels: Int32Array,
    private readonly label: number,
  ) {
    this.steps = pointerSteps(width);
    const diagonal = Math.hypot(cellWidth, cellHeight);
    this.stepMeters = Float64Array.of(
      ...[diagonal, cellHeight, diagonal, cellWidth],
      ...[cellWidth, diagonal, cellHeight, diagonal],
    );
  }

  begin(cells: readonly number[]): void {
    for (const cell of cells) this.push(cell, 0);
  }

  /** Takes so many cells off the stack; false when none is left. */
  go(most: number): boolean {
    const { steps, pointers, labels, label } = this;
    for (let done = 0; done < most && this.length > 0; done++) {
      const cell = this.cells[--this.length]!;
      const meters = this.meters[this.length]!;
      if (
        meters > this.farthestMeters ||
        (meters === this.farthestMeters && cell < this.farthest)
      ) {
        this.farthest = cell;
        this.farthestMeters = meters;
      }
      for (let k = 0; k < 8; k++) {
        // Cells with neighbours off the grid drain off the site and are never stood on.
        const above = cell - steps[k]!;
        if (pointers[above] === k && labels[above] !== label) {
          this.push(above, meters + this.stepMeters[k]!);
        }
      }
    }
    return this.length > 0;
  }

  private push(cell: number, meters: number): void {
    if (this.length === this.cells.length) {
      const cells = new Int32Array(this.length * 2);
      const metersOf = new Float64Array(this.length * 2);
      cells.set(this.cells);
      metersOf.set(this.meters);
      this.cells = cells;
      this.meters = metersOf;
    }
    this.cells[this.length] = cell;
    this.meters[this.length++] = meters;
  }
}
