import { feetFromMeters } from '../../geo/frame/units.ts';
import { indexContourEvery } from '../../geo/raster/contour-interval.ts';
import { contourLabelPlace } from '../../geo/raster/contour-label.ts';
import { contourLines, type ContourLine } from '../../geo/raster/contours.ts';
import type { Grid } from '../../geo/raster/grid.ts';
import type { Work } from '../../geo/work.ts';
import { footprintOf } from '../tiles/footprint.ts';
import { latitudeOf, longitudeOf, metersPerPixel } from '../tiles/mercator.ts';
import type { GroundTiles } from '../tiles/tile-source.ts';
import { contourChoice } from './contour-choice.ts';

/** The elevation of a contour, written along it. */
export interface ContourLabel {
  readonly lng: number;
  readonly lat: number;
  /** Whole feet or metres, as the plan's units are; a quarter metre where steps are finer. */
  readonly text: string;
  /** Clockwise turn of the text on a north-up map, -90 to 90: never upside down. */
  readonly turnDegrees: number;
}

/** A square of the map in which labels are set once, so that they stay put while the map is moved. */
export interface LabelChunk {
  readonly z: number;
  readonly x: number;
  readonly y: number;
}

/** CSS pixels along a chunk, and along the stretch that a label wants straight. */
export const chunkPixels = 512;
const labelPixels = 44;

/**
 * Labels of the contours in one chunk: the heavier lines, one label on each where it is straightest;
 * of ground so flat that no heavier line crosses the chunk, the plain ones. Lines come from the same
 * heights and steps as the drawn ones. Work is bound by the chunk's pixels, not by the raster.
 */
export function* contourLabels(ground: GroundTiles, chunk: LabelChunk): Work<ContourLabel[]> {
  const across = 2 ** chunk.z;
  const { heights, frame } = ground;
  const footprint = footprintOf(heights[0]!, frame);
  const latitude = latitudeOf((footprint.north + footprint.south) / 2);
  const perPixel = metersPerPixel(latitude, chunk.z, chunkPixels);
  const { level, intervalMeters } = contourChoice(ground, perPixel, 1);
  const west = longitudeOf(chunk.x / across);
  const east = longitudeOf((chunk.x + 1) / across);
  const north = latitudeOf(chunk.y / across);
  const south = latitudeOf((chunk.y + 1) / across);
  const corners = [
    frame.fromLngLat(west, north),
    frame.fromLngLat(east, north),
    frame.fromLngLat(west, south),
    frame.fromLngLat(east, south),
  ];
  const part = partUnder(heights[level]!, corners);
  if (!part) return [];
  let lines = yield* contourLines(part, intervalMeters * indexContourEvery);
  if (lines.length === 0) lines = yield* contourLines(part, intervalMeters);
  const labels: ContourLabel[] = [];
  for (const line of lines) {
    const place = contourLabelPlace(line, labelPixels * perPixel);
    if (!place) continue;
    const [lng, lat] = frame.toLngLat(place.x, place.y);
    // A chunk's box in the frame reaches into its neighbours, which label their own ground.
    if (!(lng >= west && lng < east && lat > south && lat <= north)) continue;
    const bearing = place.gridBearingDegrees + part.convergenceDegrees;
    labels.push({ lng, lat, text: heightText(line, ground.units), turnDegrees: upright(bearing) });
  }
  return labels;
}

/** The cells of a level under a box of frame positions, as a grid of their own. */
function partUnder(grid: Grid, corners: readonly (readonly [number, number])[]): Grid | null {
  const xs = corners.map((corner) => corner[0]);
  const ys = corners.map((corner) => corner[1]);
  const clamp = (value: number, most: number) => Math.max(0, Math.min(most, value));
  const column0 = clamp(
    Math.floor((Math.min(...xs) - grid.west) / grid.cellWidth - 0.5),
    grid.width,
  );
  const column1 = clamp(
    Math.ceil((Math.max(...xs) - grid.west) / grid.cellWidth + 0.5),
    grid.width,
  );
  const row0 = clamp(
    Math.floor((grid.north - Math.max(...ys)) / grid.cellHeight - 0.5),
    grid.height,
  );
  const row1 = clamp(
    Math.ceil((grid.north - Math.min(...ys)) / grid.cellHeight + 0.5),
    grid.height,
  );
  const width = column1 - column0;
  const height = row1 - row0;
  if (width < 2 || height < 2) return null;
  const data = new Float32Array(width * height);
  for (let row = 0; row < height; row++) {
    const from = (row0 + row) * grid.width + column0;
    data.set(grid.data.subarray(from, from + width), row * width);
  }
  return {
    ...grid,
    data,
    width,
    height,
    west: grid.west + column0 * grid.cellWidth,
    north: grid.north - row0 * grid.cellHeight,
  };
}

function heightText({ levelMeters }: ContourLine, units: 'us' | 'metric'): string {
  const value = units === 'us' ? feetFromMeters(levelMeters) : levelMeters;
  // Steps are whole feet, or quarters of a metre and up: two decimals hold every level.
  return String(Number(value.toFixed(2)));
}

/** A line's bearing to the turn of text along it: 90° (east) is level text. */
function upright(bearingDegrees: number): number {
  const turn = (((bearingDegrees - 90) % 180) + 180) % 180;
  return turn > 90 ? turn - 180 : turn;
}
