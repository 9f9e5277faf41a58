import type { HorizontalCrs } from '../frame/crs-types.ts';
import { openCrs } from '../frame/open-frame.ts';
import { ok, problem, type Result } from '../result.ts';
import { affineInverse, affinePoint, isNorthUp, type Affine } from './affine.ts';
import type { CellWindow } from './cell-window.ts';
import type { ToSource } from './resample-bilinear.ts';

/** Where a tile of a survey lies, in its own coordinate system. */
export interface TilePlace {
  readonly name: string;
  readonly width: number;
  readonly height: number;
  readonly affine: Affine;
  readonly crs: HorizontalCrs;
}

/** One tile on the canvas. */
export interface PlacedTile {
  readonly tile: TilePlace;
  /** Whole cells are copied; the others are resampled. */
  readonly how: 'whole-cells' | 'part-cells' | 'other-system';
  /** Cells of the canvas that the tile may reach. */
  readonly reach: CellWindow;
  /** From canvas column and row to the tile's. */
  readonly toTile: ToSource;
}

/** All tiles of a survey as one raster, in the system and on the cells of the first in name order. */
export interface Canvas {
  readonly width: number;
  readonly height: number;
  readonly affine: Affine;
  readonly crs: HorizontalCrs;
  /** In name order. Where tiles overlap, the first one that has a number there is taken. */
  readonly tiles: readonly PlacedTile[];
  readonly notes: readonly string[];
}

/** A tile this share of a cell or less off the canvas is taken as on it. */
const SAME_CELLS = 0.01;
/** Cell sizes that differ by more than this share are different cell sizes. */
const SAME_SIZE = 1e-4;

/**
 * Plans several tiles of one survey as one ground. Order: by name, plain character order.
 * Problems: a tile that is not north-up or nowhere, degrees with metres, another unit, another cell
 * size.
 * Another projection of the same kind (a survey on a zone edge comes in both UTM zones) is taken
 * into the first tile's by resampling. Throws RangeError without tiles.
 * Example: two 10 × 10 tiles that share an edge give a canvas of 20 × 10.
 */
export function planMosaic(tiles: readonly TilePlace[]): Result<Canvas> {
  if (tiles.length === 0) throw new RangeError('no tiles');
  const sorted = [...tiles].sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : 0));
  const first = sorted[0]!;
  for (const tile of sorted) {
    const fault = faultOf(tile, first);
    if (fault) return fault;
  }
  const boxes: Box[] = [];
  for (const tile of sorted) {
    const box = boxOnFirst(tile, first);
    if (!box) return nowhere(tile);
    boxes.push(box);
  }
  const left = Math.min(...boxes.map((box) => box.left));
  const top = Math.min(...boxes.map((box) => box.top));
  const width = Math.max(...boxes.map((box) => box.right)) - left;
  const height = Math.max(...boxes.map((box) => box.bottom)) - top;
  if (!(Number.isSafeInteger(width * height) && Math.min(width, height) > 0)) return nowhere(first);
  const [c, f] = affinePoint(first.affine, left, top);
  const affine = { ...first.affine, c, f };
  const placed = sorted.map((tile, i): PlacedTile => {
    const box = boxes[i]!;
    return {
      tile,
      how: box.how,
      reach: {
        column: box.left - left,
        row: box.top - top,
        width: box.right - box.left,
        height: box.bottom - box.top,
      },
      toTile: toTile(tile, affine, first.crs, box.how),
    };
  });
  const notes = notesOf(placed, width, height);
  return ok({ width, height, affine, crs: first.crs, tiles: placed, notes });
}

function faultOf(tile: TilePlace, first: TilePlace): Result<never> | null {
  if (!isNorthUp(tile.affine)) {
    return problem(
      'tile-turned',
      'This tile is turned or upside down, so it cannot be joined to others.',
      'Open it alone, or export the tiles again with north up.',
      tile.name,
    );
  }
  if (tile.crs.kind !== first.crs.kind || tile.crs.unit !== first.crs.unit) {
    return problem(
      'tiles-differ-in-system',
      `This tile is in ${tile.crs.name}, the first one in ${first.crs.name}.`,
      'Open tiles of one survey together, all in one coordinate system.',
      tile.name,
    );
  }
  const wider = Math.abs(tile.affine.a / first.affine.a - 1);
  const higher = Math.abs(tile.affine.e / first.affine.e - 1);
  if (wider > SAME_SIZE || higher > SAME_SIZE) {
    return problem(
      'tiles-differ-in-cell',
      `This tile has cells of ${round(tile.affine.a)}, the first one of ${round(first.affine.a)}.`,
      'Open tiles of one cell size together, or each survey as a ground of its own.',
      tile.name,
    );
  }
  return null;
}

function nowhere(tile: TilePlace): Result<never> {
  return problem(
    'tile-nowhere',
    'The coordinates of this tile have no place beside the others.',
    'Leave it out, or download it again, and check that all tiles are of one survey.',
    tile.name,
  );
}

interface Box {
  readonly how: PlacedTile['how'];
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/**
 * Cells of the first tile's raster, counted on beyond its edges, that a tile covers; null where the
 * numbers of either are no place.
 */
function boxOnFirst(tile: TilePlace, first: TilePlace): Box | null {
  // Cells that their coordinates do not tell apart.
  const { a, c, e, f } = tile.affine;
  if (!(c + a > c && f + e < f)) return null;
  try {
    const box = countedBox(tile, first);
    const sides = [box.left, box.top, box.right, box.bottom];
    return sides.every((side) => Number.isSafeInteger(side)) ? box : null;
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}

function countedBox(tile: TilePlace, first: TilePlace): Box {
  const inverse = affineInverse(first.affine);
  if (sameSystem(tile.crs, first.crs)) {
    const [left, top] = affinePoint(inverse, tile.affine.c, tile.affine.f);
    const [x, y] = affinePoint(tile.affine, tile.width, tile.height);
    const [right, bottom] = affinePoint(inverse, x, y);
    const onCells = [left, top, right, bottom].every(
      (v) => Math.abs(v - Math.round(v)) <= SAME_CELLS,
    );
    if (onCells) {
      const [column, row] = [Math.round(left), Math.round(top)];
      return {
        how: 'whole-cells',
        left: column,
        top: row,
        right: column + tile.width,
        bottom: row + tile.height,
      };
    }
    return { how: 'part-cells', ...outward(left, top, right, bottom) };
  }
  const from = openCrs(tile.crs);
  const into = openCrs(first.crs);
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
  // Edges bend between the systems: sixteen points a side, and a cell to spare.
  for (let i = 0; i <= 16; i++) {
    for (const [u, v] of [
      [i / 16, 0],
      [i / 16, 1],
      [0, i / 16],
      [1, i / 16],
    ] as const) {
      const [x, y] = affinePoint(tile.affine, u * tile.width, v * tile.height);
      const [column, row] = affinePoint(inverse, ...into.fromLngLat(...from.toLngLat(x, y)));
      left = Math.min(left, column);
      right = Math.max(right, column);
      top = Math.min(top, row);
      bottom = Math.max(bottom, row);
    }
  }
  return { how: 'other-system', ...outward(left, top, right, bottom) };
}

const outward = (left: number, top: number, right: number, bottom: number) => ({
  left: Math.floor(left + SAME_CELLS),
  top: Math.floor(top + SAME_CELLS),
  right: Math.ceil(right - SAME_CELLS),
  bottom: Math.ceil(bottom - SAME_CELLS),
});

function toTile(
  tile: TilePlace,
  canvas: Affine,
  crs: HorizontalCrs,
  how: PlacedTile['how'],
): ToSource {
  const inverse = affineInverse(tile.affine);
  if (how !== 'other-system') {
    return (column, row, out) => {
      const [x, y] = affinePoint(canvas, column, row);
      [out[0], out[1]] = affinePoint(inverse, x, y);
    };
  }
  const from = openCrs(crs);
  const into = openCrs(tile.crs);
  return (column, row, out) => {
    try {
      const [lng, lat] = from.toLngLat(...affinePoint(canvas, column, row));
      [out[0], out[1]] = affinePoint(inverse, ...into.fromLngLat(lng, lat));
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
      out[0] = out[1] = NaN;
    }
  };
}

/** NAD83 and WGS84 are taken as one, and their ellipsoids differ by a tenth of a millimetre. */
function sameSystem(a: HorizontalCrs, b: HorizontalCrs): boolean {
  const plain = (crs: HorizontalCrs) => crs.proj.replace(/\+(datum|ellps|rf|a|b)=\S+\s*/g, '');
  return plain(a) === plain(b);
}

function notesOf(placed: readonly PlacedTile[], width: number, height: number): string[] {
  const notes: string[] = [];
  if (placed.length > 1) {
    notes.push(`${placed.length} tiles joined; where they overlap the first by name is taken.`);
  }
  for (const { tile, how } of placed) {
    if (how === 'part-cells')
      notes.push(`${tile.name} lies between the cells of the first tile and was resampled.`);
    if (how === 'other-system') {
      notes.push(
        `${tile.name} is in ${tile.crs.name} and was resampled into ${placed[0]!.tile.crs.name}.`,
      );
    }
  }
  if (new Set(placed.map(({ tile }) => tile.crs.datum)).size > 1) {
    notes.push(
      'The tiles stand on NAD83 and WGS84, taken as one here; they can differ by up to 2 m.',
    );
  }
  const gaps = 1 - coveredCells(placed.map((tile) => tile.reach)) / (width * height);
  if (gaps > 0) {
    notes.push(
      `${(100 * gaps).toFixed(gaps < 0.001 ? 3 : 1)} % of the ground lies in no tile and has no heights.`,
    );
  }
  return notes;
}

/** Cells in at least one of the rectangles. */
function coveredCells(boxes: readonly CellWindow[]): number {
  const edges = [...new Set(boxes.flatMap((b) => [b.column, b.column + b.width]))].sort(
    (a, b) => a - b,
  );
  let covered = 0;
  for (let i = 0; i + 1 < edges.length; i++) {
    const spans = boxes
      .filter((b) => b.column <= edges[i]! && b.column + b.width >= edges[i + 1]!)
      .map((b) => [b.row, b.row + b.height] as const)
      .sort((a, b) => a[0] - b[0]);
    let end = -Infinity;
    for (const [from, to] of spans) {
      covered += Math.max(0, to - Math.max(from, end)) * (edges[i + 1]! - edges[i]!);
      end = Math.max(end, to);
    }
  }
  return covered;
}

const round = (value: number) => Number(value.toPrecision(6));
