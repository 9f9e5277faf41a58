import type { PropertiesOf } from '../plan/kinds.ts';
import type { XY } from '../plan/overlay/arrangement.ts';
import { isInPolygon } from '../plan/point-in-polygon.ts';
import { outlineHeightAt } from './heap-height.ts';
import { pileVolume, type PileShape } from './pile-shapes.ts';

type HeapProperties = PropertiesOf<'heap'>;

/**
 * The published pile shape that a heap's numbers make; null while one that it needs is missing or 0.
 * A heap without a length is as long as it is wide; a far end that is not given is like the near one.
 */
export function heapPile(heap: HeapProperties): PileShape | null {
  const { shape: kind, widthMeters: width, heightMeters: height } = heap;
  if (!height) return null;
  if (kind === 'half-sphere') return { kind, height };
  if (!width) return null;
  const length = heap.lengthMeters || width;
  if (kind === 'paraboloid') {
    // An oval one holds what a round one of the same ground does.
    return { kind, width: Math.sqrt(width * length), height };
  }
  if (kind === 'half-cylinder' || kind === 'half-ellipsoid') return { kind, length, width, height };
  const far = { width2: heap.farWidthMeters || width, height2: heap.farHeightMeters || height };
  if (kind === 'irregular') return { kind, length, length2: length, width, height, ...far };
  return { kind, length, width, height, ...far };
}

/** Sample points across the outline of a heap, at least so many. */
const SAMPLES = 3000;

/**
 * Gross volume of a heap that is known by its outline alone (rings in metres, closed): its sides
 * rise 1 to 1 from the edge up to the height said (`outlineHeightAt`). Sampled to about 0.5 %.
 * 0 for no height. Example: 20 × 20 m and 3 m high is 876 m³.
 */
export function outlineHeapVolume(rings: readonly (readonly XY[])[], heightMeters: number): number {
  if (!(heightMeters > 0)) return 0;
  const [west, south, east, north] = boxOf(rings[0] ?? []);
  const step = Math.sqrt(((east - west) * (north - south)) / SAMPLES);
  if (!(step > 0)) return 0;
  const heightAt = outlineHeightAt(rings, heightMeters);
  const [columns, rows] = [Math.ceil((east - west) / step), Math.ceil((north - south) / step)];
  const [dx, dy] = [(east - west) / columns, (north - south) / rows];
  let sum = 0;
  for (let row = 0; row < rows; row++) {
    const y = south + (row + 0.5) * dy;
    for (let column = 0; column < columns; column++) {
      const x = west + (column + 0.5) * dx;
      if (isInPolygon([x, y], rings)) sum += heightAt(x, y);
    }
  }
  return sum * dx * dy;
}

/** Gross volume of a heap by its numbers, or by its outline and height; null while neither says. */
export function heapVolume(
  heap: HeapProperties,
  rings: readonly (readonly XY[])[] | null,
): number | null {
  const isMeasured = rings === null || (heap.widthMeters ?? 0) > 0;
  const pile = isMeasured ? heapPile(heap) : null;
  if (pile) return pileVolume(pile);
  return rings && heap.heightMeters ? outlineHeapVolume(rings, heap.heightMeters) : null;
}

function boxOf(ring: readonly XY[]): [number, number, number, number] {
  const box: [number, number, number, number] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const [x, y] of ring) {
    box[0] = Math.min(box[0], x);
    box[1] = Math.min(box[1], y);
    box[2] = Math.max(box[2], x);
    box[3] = Math.max(box[3], y);
  }
  return box;
}
