import type { Grid } from '../../geo/raster/grid.ts';
import { boundsOfControl, type ControlGrid } from './control-grid.ts';

/**
 * A rectangle of a grid cut out for one tile, with a rim, so that sampling needs no bounds checks
 * and no no-data checks: cells beyond the edge and cells without data are continued from their
 * neighbours, and `gap` remembers which ones were.
 */
export interface Window {
  readonly width: number;
  readonly height: number;
  readonly values: Float32Array;
  /** 1 where the grid has no number; null when it has one everywhere in the window. */
  readonly gap: Uint8Array | null;
  /** Frame x of the centre of column 0 and y of the centre of row 0. */
  readonly originX: number;
  readonly originY: number;
  readonly cellWidth: number;
  readonly cellHeight: number;
  /** Columns and rows of the window that lie on the grid: `left` to `right - 1`. */
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** Buffers kept from tile to tile by whoever draws them. */
export class WindowBuffers {
  private values = new Float32Array(0);
  private gaps = new Uint8Array(0);

  take(cells: number): { values: Float32Array; gaps: Uint8Array } {
    if (this.values.length < cells) {
      this.values = new Float32Array(cells);
      this.gaps = new Uint8Array(cells);
    }
    return { values: this.values.subarray(0, cells), gaps: this.gaps.subarray(0, cells) };
  }
}

const rim = 3;

/** Cuts the cells under a control grid, or null where the raster does not reach there. */
export function cutWindow(grid: Grid, control: ControlGrid, buffers: WindowBuffers): Window | null {
  const { minX, minY, maxX, maxY } = boundsOfControl(control);
  const firstColumn = Math.floor((minX - grid.west) / grid.cellWidth) - rim;
  const lastColumn = Math.floor((maxX - grid.west) / grid.cellWidth) + rim;
  const firstRow = Math.floor((grid.north - maxY) / grid.cellHeight) - rim;
  const lastRow = Math.floor((grid.north - minY) / grid.cellHeight) + rim;
  const c0 = Math.max(-rim, firstColumn);
  const c1 = Math.min(grid.width - 1 + rim, lastColumn);
  const r0 = Math.max(-rim, firstRow);
  const r1 = Math.min(grid.height - 1 + rim, lastRow);
  const left = Math.max(0, c0) - c0;
  const top = Math.max(0, r0) - r0;
  const right = Math.min(grid.width, c1 + 1) - c0;
  const bottom = Math.min(grid.height, r1 + 1) - r0;
  if (left >= right || top >= bottom) return null;

  const width = c1 - c0 + 1;
  const height = r1 - r0 + 1;
  const { values, gaps } = buffers.take(width * height);
  for (let r = top; r < bottom; r++) {
    const from = (r0 + r) * grid.width + c0 + left;
    values.set(grid.data.subarray(from, from + right - left), r * width + left);
  }
  const hasGap = markGaps(values, gaps, width, left, top, right, bottom);
  if (hasGap) fillGaps(values, width, left, top, right, bottom);
  continueBeyond(values, width, height, left, top, right, bottom);
  return {
    width,
    height,
    values,
    gap: hasGap ? gaps : null,
    originX: grid.west + (c0 + 0.5) * grid.cellWidth,
    originY: grid.north - (r0 + 0.5) * grid.cellHeight,
    cellWidth: grid.cellWidth,
    cellHeight: grid.cellHeight,
    left,
    top,
    right,
    bottom,
  };
}

function markGaps(
  values: Float32Array,
  gaps: Uint8Array,
  width: number,
  left: number,
  top: number,
  right: number,
  bottom: number,
): boolean {
  let any = false;
  for (let r = top; r < bottom; r++) {
    for (let k = r * width + left; k < r * width + right; k++) {
      const gap = values[k] !== values[k];
      gaps[k] = gap ? 1 : 0;
      any ||= gap;
    }
  }
  return any;
}

/**
 * Gives gaps the average of neighbours with data, two rings deep, enough for a kernel of three
 * cells; anything deeper becomes 0 and is never drawn.
 */
function fillGaps(
  values: Float32Array,
  width: number,
  left: number,
  top: number,
  right: number,
  bottom: number,
): void {
  const found: number[] = [];
  for (let pass = 0; pass < 2; pass++) {
    found.length = 0;
    for (let r = top; r < bottom; r++) {
      for (let c = left; c < right; c++) {
        const k = r * width + c;
        if (values[k] === values[k]) continue;
        let sum = 0;
        let count = 0;
        for (let nr = Math.max(top, r - 1); nr <= Math.min(bottom - 1, r + 1); nr++) {
          for (let nc = Math.max(left, c - 1); nc <= Math.min(right - 1, c + 1); nc++) {
            const value = values[nr * width + nc];
            if (value !== value) continue;
            sum += value;
            count++;
          }
        }
        if (count > 0) found.push(k, sum / count);
      }
    }
    for (let i = 0; i < found.length; i += 2) values[found[i]] = found[i + 1];
  }
  for (let r = top; r < bottom; r++) {
    for (let k = r * width + left; k < r * width + right; k++) {
      if (values[k] !== values[k]) values[k] = 0;
    }
  }
}

/** Continues the grid past its edges along the slope of its last two cells. */
function continueBeyond(
  values: Float32Array,
  width: number,
  height: number,
  left: number,
  top: number,
  right: number,
  bottom: number,
): void {
  for (let r = top; r < bottom; r++) {
    const row = r * width;
    for (let c = left - 1; c >= 0; c--) extend(values, row + c, 1, right - left);
    for (let c = right; c < width; c++) extend(values, row + c, -1, right - left);
  }
  for (let c = 0; c < width; c++) {
    for (let r = top - 1; r >= 0; r--) extend(values, r * width + c, width, bottom - top);
    for (let r = bottom; r < height; r++) extend(values, r * width + c, -width, bottom - top);
  }
}

function extend(values: Float32Array, k: number, inward: number, cells: number): void {
  const next = values[k + inward];
  values[k] = cells > 1 ? 2 * next - values[k + 2 * inward] : next;
}
