import type { GridShape } from './make-grid.ts';

const STEPS = 8;

/**
 * Points in frame metres all along the four sides of a grid, corners among them: in a projection its
 * sides bulge, so corners alone do not stand for them.
 * Example: any grid gives 36 points, its north-west corner first.
 */
export function rimOf(shape: GridShape): [number, number][] {
  const { west, north } = shape;
  const east = west + shape.width * shape.cellWidth;
  const south = north - shape.height * shape.cellHeight;
  const points: [number, number][] = [];
  for (let i = 0; i <= STEPS; i++) {
    const x = west + (i / STEPS) * (east - west);
    const y = north - (i / STEPS) * (north - south);
    points.push([x, north], [x, south], [west, y], [east, y]);
  }
  return points;
}
