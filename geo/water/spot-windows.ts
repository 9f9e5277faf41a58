import type { GridPlace } from '../raster/grid.ts';
import { rowsPerBand } from '../raster/row-bands.ts';
import type { Work } from '../work.ts';

/** Cells from (row, column) on, `height` × `width` of them. */
export interface SpotWindow {
  readonly row: number;
  readonly column: number;
  readonly width: number;
  readonly height: number;
}

/**
 * Windows round the labelled spots that were asked for, each with a margin (metres), those that
 * overlap made one: whatever else the ground holds need not be filled again.
 * @param place 0 for labels not asked for, by label
 */
export function* spotWindows(
  place: GridPlace,
  labels: Int32Array,
  asked: Uint8Array,
  marginMeters: number,
): Work<SpotWindow[]> {
  const { width, height } = place;
  const bounds = new Map<number, Bounds>();
  const band = rowsPerBand(width);
  for (let row = 0; row < height; row++) {
    for (let column = 0; column < width; column++) {
      const label = labels[row * width + column]!;
      if (asked[label] !== 1) continue;
      const b = bounds.get(label);
      if (b) widen(b, row, column);
      else bounds.set(label, { top: row, left: column, bottom: row, right: column });
    }
    if (row % band === 0) yield { share: row / height, doing: 'finding low spots' };
  }
  const rows = Math.ceil(marginMeters / place.cellHeight);
  const columns = Math.ceil(marginMeters / place.cellWidth);
  const wide = [...bounds.values()].map(({ top, left, bottom, right }) => ({
    top: Math.max(0, top - rows),
    left: Math.max(0, left - columns),
    bottom: Math.min(height - 1, bottom + rows),
    right: Math.min(width - 1, right + columns),
  }));
  return apart(wide).map(({ top, left, bottom, right }) => ({
    row: top,
    column: left,
    width: right - left + 1,
    height: bottom - top + 1,
  }));
}

interface Bounds {
  top: number;
  left: number;
  bottom: number;
  right: number;
}

function widen(b: Bounds, row: number, column: number): void {
  b.bottom = row;
  if (column < b.left) b.left = column;
  else if (column > b.right) b.right = column;
}

/** Joins windows until none overlaps another; from north to south, then west to east. */
function apart(windows: readonly Bounds[]): Bounds[] {
  let open = [...windows];
  for (let joined = true; joined;) {
    joined = false;
    const done: Bounds[] = [];
    for (const one of open) {
      const other = done.find(
        (w) =>
          w.top <= one.bottom && one.top <= w.bottom && w.left <= one.right && one.left <= w.right,
      );
      if (!other) {
        done.push({ ...one });
        continue;
      }
      joined = true;
      other.top = Math.min(other.top, one.top);
      other.left = Math.min(other.left, one.left);
      other.bottom = Math.max(other.bottom, one.bottom);
      other.right = Math.max(other.right, one.right);
    }
    open = done;
  }
  return open.toSorted((a, b) => a.top - b.top || a.left - b.left);
}
