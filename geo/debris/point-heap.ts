import type { Frame } from '../frame/crs-types.ts';
import type { PropertiesOf } from '../plan/kinds.ts';
import type { Position } from '../plan/feature.ts';
import type { XY } from '../plan/overlay/arrangement.ts';
import { heapPile } from './heap-solid.ts';
import { pileHeightAt, pileOutline } from './pile-shapes.ts';

type HeapProperties = PropertiesOf<'heap'>;

const ovalCorners = 64;

/**
 * Outline of a heap about its middle in ground metres, its length along x, first corner once; null
 * where it says no size. Without a length it is as long as wide. Round shapes are ovals of 64 corners whose area is exactly
 * π/4 × length × width; half a ball is twice as wide as high.
 */
export function heapOutline(heap: HeapProperties): XY[] | null {
  const { shape, widthMeters, heightMeters } = heap;
  const lengthMeters = heap.lengthMeters || widthMeters;
  if (shape === 'half-sphere')
    return heightMeters ? oval(2 * heightMeters, 2 * heightMeters) : null;
  if (!lengthMeters || !widthMeters) return null;
  if (shape === 'paraboloid' || shape === 'half-ellipsoid') return oval(lengthMeters, widthMeters);
  // The outline needs no height.
  const pile = heapPile({ ...heap, heightMeters: heightMeters || 1 });
  return pile && pileOutline(pile);
}

/** Height over the ground at a place about its middle, ground metres; 0 outside and unsaid. */
export function heapHeight(heap: HeapProperties, x: number, y: number): number {
  const { shape, widthMeters, heightMeters } = heap;
  const lengthMeters = heap.lengthMeters || widthMeters;
  if (shape === 'paraboloid') {
    if (!lengthMeters || !widthMeters || !heightMeters) return 0;
    const [along, across] = [(2 * x) / lengthMeters, (2 * y) / widthMeters];
    return heightMeters * Math.max(0, 1 - along * along - across * across);
  }
  const pile = heapPile(heap);
  return pile ? pileHeightAt(pile, x, y) : 0;
}

/** Where a heap drawn as a point lies in a frame: its outline, and its height at frame metres. */
export interface PointHeap {
  readonly ring: readonly XY[];
  readonly heightAt: (x: number, y: number) => number;
}

/**
 * A heap drawn as a point, its length to true east; null for one that says no size. Throws
 * RangeError where the frame has no place for it.
 */
export function pointHeap(
  heap: HeapProperties,
  [lng, lat]: Position,
  frame: Frame,
): PointHeap | null {
  const outline = heapOutline(heap);
  if (!outline) return null;
  const [x0, y0] = frame.fromLngLat(lng, lat);
  const { groundAreaPerFrameArea, convergenceDegrees } = frame.distortionAt(x0, y0);
  const scale = 1 / Math.sqrt(groundAreaPerFrameArea);
  const turn = (convergenceDegrees * Math.PI) / 180;
  // True east lies counter-clockwise of grid east by the convergence.
  const [cos, sin] = [Math.cos(turn) * scale, Math.sin(turn) * scale];
  const square = scale * scale;
  return {
    ring: outline.map(([e, n]): XY => [x0 + e * cos - n * sin, y0 + e * sin + n * cos]),
    heightAt: (x, y) => {
      const [dx, dy] = [x - x0, y - y0];
      return heapHeight(heap, (dx * cos + dy * sin) / square, (dy * cos - dx * sin) / square);
    },
  };
}

function oval(length: number, width: number): XY[] {
  const step = (2 * Math.PI) / ovalCorners;
  const scale = Math.sqrt(step / Math.sin(step)) / 2;
  return Array.from({ length: ovalCorners }, (_, k): XY => [
    Math.cos(k * step) * length * scale,
    Math.sin(k * step) * width * scale,
  ]);
}
