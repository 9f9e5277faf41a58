import { worldSizePixels, worldXOf, worldYOf } from './mercator.ts';
import type { PixelRectangle } from './control-grid.ts';
import type { TileAddress } from './tile-kind.ts';
import type { LevelPlace, TileFrame } from './tile-source.ts';

/** Where a raster lies in the world square: shares of its edge, y from the north. */
export interface Footprint {
  readonly west: number;
  readonly north: number;
  readonly east: number;
  readonly south: number;
}

const pointsPerSide = 32;

/**
 * Bounding box of a raster in world mercator, from points along its edges, a little widened because
 * edges bulge between the points.
 */
export function footprintOf(place: LevelPlace, frame: TileFrame): Footprint {
  const east = place.west + place.width * place.cellWidth;
  const south = place.north - place.height * place.cellHeight;
  let minX = Infinity;
  let minY = Infinity;
  let maxX = -Infinity;
  let maxY = -Infinity;
  const take = (x: number, y: number): void => {
    const [lng, lat] = frame.toLngLat(x, y);
    const worldX = worldXOf(lng);
    const worldY = worldYOf(lat);
    minX = Math.min(minX, worldX);
    maxX = Math.max(maxX, worldX);
    minY = Math.min(minY, worldY);
    maxY = Math.max(maxY, worldY);
  };
  for (let i = 0; i <= pointsPerSide; i++) {
    const x = place.west + ((east - place.west) * i) / pointsPerSide;
    const y = south + ((place.north - south) * i) / pointsPerSide;
    take(x, place.north);
    take(x, south);
    take(place.west, y);
    take(east, y);
  }
  const margin = Math.max(maxX - minX, maxY - minY) * 1e-3;
  return { west: minX - margin, north: minY - margin, east: maxX + margin, south: maxY + margin };
}

/** The pixels of a tile that the footprint may touch, or null where it touches none. */
export function pixelsUnder(footprint: Footprint, tile: TileAddress): PixelRectangle | null {
  const world = worldSizePixels(tile);
  const originX = tile.x * tile.size;
  const originY = tile.y * tile.size;
  const left = Math.max(0, Math.floor(footprint.west * world - originX) - 1);
  const top = Math.max(0, Math.floor(footprint.north * world - originY) - 1);
  const right = Math.min(tile.size, Math.ceil(footprint.east * world - originX) + 1);
  const bottom = Math.min(tile.size, Math.ceil(footprint.south * world - originY) + 1);
  return left < right && top < bottom ? { left, top, right, bottom } : null;
}
