import type { XY } from '../plan/overlay/arrangement.ts';
import type { CellLattice, RingsXY } from '../raster/polygon-mask.ts';
import { polygonCoverage } from '../raster/polygon-coverage.ts';
import { ok, problem, type Result } from '../result.ts';
import { badNumber, belowZero } from './check-numbers.ts';

/** Ground with so much on it, spread evenly; rings in frame metres as `polygonCoverage` has them. */
export interface DebrisArea {
  readonly rings: RingsXY;
  readonly cubicMeters: number;
}

/** What lies on a piece of ground, at its middle. */
export interface DebrisPatch {
  readonly at: XY;
  readonly cubicMeters: number;
}

/** Cells along a patch, so that its middle lies on its own ground. */
const FINE = 4;
/** Corners of rings may not take the lattice over this many cells along. */
const MOST_ALONG = 40_000;

interface Sums {
  volume: number;
  x: number;
  y: number;
}

/**
 * Areas cut into square patches as large as they have to be for at most so many of them, each with
 * what all areas put on it and its middle by volume. They hold together what the areas hold.
 * In rows from north to south, each from west to east; patches without debris are left out.
 * Problems: `clearing-without-ground` where areas have no extent, and values out of bounds.
 * Example: 100 × 50 m, 500 m³, at most 50: 50 of 10 m³.
 */
export function debrisPatches(areas: readonly DebrisArea[], most: number): Result<DebrisPatch[]> {
  const volumes = areas.map(({ cubicMeters }, i) => [`debris on area ${i + 1}`, cubicMeters]);
  const bad = badNumber({ 'number of patches': most }, 1, 1e6) ?? belowZero(Object.fromEntries(volumes)); // prettier-ignore
  if (bad) return bad;
  const loaded = areas.filter(({ cubicMeters }) => cubicMeters > 0);
  if (loaded.length === 0) return ok([]);
  const corners = loaded.flatMap(({ rings }) => rings.flat());
  const box = boxOf(corners);
  const square = Math.max(box.east - box.west, box.north - box.south);
  if (!(square > 0) || square > 1e6 || corners.some(([x, y]) => !Number.isFinite(x + y))) {
    return withoutGround();
  }
  const ground = loaded.map(({ rings }) => polygonCoverage(latticeOf(box, square / 64), rings));
  const cell = (square / 64) ** 2;
  const area = ground.reduce((sum, { polygonCells }) => sum + polygonCells * cell, 0);
  if (ground.some(({ polygonCells }) => !(polygonCells > 1e-9))) return withoutGround();
  let side = Math.max(Math.sqrt(area / most), square / (MOST_ALONG / FINE));
  for (;;) {
    const patches = cut(loaded, latticeOf(box, side / FINE));
    if (patches.length <= most) return ok(patches);
    side *= Math.max(1.02, Math.sqrt(patches.length / most));
  }
}

function withoutGround(): Result<never> {
  return problem(
    'clearing-without-ground',
    'The ground that debris comes from has no extent.',
    'Draw its outline anew.',
  );
}

function cut(areas: readonly DebrisArea[], lattice: CellLattice): DebrisPatch[] {
  const { west, north, cellWidth: cell, width } = lattice;
  const across = Math.ceil(width / FINE);
  const blocks = new Map<number, Sums>();
  for (const { rings, cubicMeters } of areas) {
    const { whole, partial, polygonCells } = polygonCoverage(lattice, rings);
    const add = (row: number, column: number, share: number) => {
      const key = Math.floor(row / FINE) * across + Math.floor(column / FINE);
      const sums = blocks.get(key) ?? { volume: 0, x: 0, y: 0 };
      const volume = (share / polygonCells) * cubicMeters;
      sums.volume += volume;
      sums.x += volume * (west + (column + 0.5) * cell);
      sums.y += volume * (north - (row + 0.5) * cell);
      blocks.set(key, sums);
    };
    for (let i = 0; i < whole.count; i++) {
      for (let c = whole.start[i]!; c < whole.end[i]!; c++) add(whole.row[i]!, c, 1);
    }
    for (let i = 0; i < partial.count; i++) {
      add(partial.row[i]!, partial.column[i]!, partial.share[i]!);
    }
  }
  return [...blocks]
    .filter(([, { volume }]) => volume > 0)
    .sort(([a], [b]) => a - b)
    .map(([, { volume, x, y }]) => ({ at: [x / volume, y / volume], cubicMeters: volume }));
}

function boxOf(points: readonly XY[]) {
  const box = { west: Infinity, south: Infinity, east: -Infinity, north: -Infinity };
  for (const [x, y] of points) {
    box.west = Math.min(box.west, x);
    box.east = Math.max(box.east, x);
    box.south = Math.min(box.south, y);
    box.north = Math.max(box.north, y);
  }
  return box;
}

function latticeOf(box: ReturnType<typeof boxOf>, cell: number): CellLattice {
  const [width, height] = [(box.east - box.west) / cell, (box.north - box.south) / cell];
  return {
    west: box.west,
    north: box.north,
    width: Math.ceil(width) + 1,
    height: Math.ceil(height) + 1,
    cellWidth: cell,
    cellHeight: cell,
  };
}
