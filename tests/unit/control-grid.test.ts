import proj4 from 'proj4';
import { describe, expect, test } from 'vitest';
import { buildControlGrid, positionsOfRow } from '../../layers/tiles/control-grid.ts';
import { metersPerPixel, worldXOf, worldYOf } from '../../layers/tiles/mercator.ts';

/**
 * Truth: every pixel centre put through proj4 itself, tile to EPSG:3857 metres to the site frame,
 * so the mercator formulas of the renderer are checked along with its interpolation.
 */
const mercatorEdge = 20037508.342789244;

const frames = [
  { name: 'UTM 18N', proj: '+proj=utm +zone=18 +datum=NAD83', at: [-75, 36.14] },
  {
    name: 'UTM 15N, 2.6° off its meridian',
    proj: '+proj=utm +zone=15 +datum=NAD83',
    at: [-90.4, 45],
  },
  { name: 'UTM 6N, Alaska', proj: '+proj=utm +zone=6 +datum=NAD83', at: [-149.5, 64.8] },
  {
    name: 'Pennsylvania North, Lambert',
    proj: '+proj=lcc +lat_0=40.1666666666667 +lon_0=-77.75 +lat_1=41.95 +lat_2=40.8833333333333 +x_0=600000 +y_0=0 +datum=NAD83',
    at: [-79.9, 41.7],
  },
  {
    name: 'Georgia East, transverse Mercator',
    proj: '+proj=tmerc +lat_0=30 +lon_0=-82.1666666666667 +k=0.9999 +x_0=200000 +y_0=0 +datum=NAD83',
    at: [-81.2, 31.1],
  },
] as const;

describe.each(frames)('control grid in $name', ({ proj, at }) => {
  const exact = proj4(proj);
  const viaMercator = proj4('EPSG:3857', proj);
  test.each([8, 10, 11, 12, 13, 14, 16, 18, 20, 22])('errs by at most 0.05 px at zoom %i', (z) => {
    const size = 256;
    const [lng, lat] = at;
    const tile = {
      z,
      size,
      x: Math.floor(worldXOf(lng) * 2 ** z),
      y: Math.floor(worldYOf(lat) * 2 ** z),
    };
    const perPixel = metersPerPixel(lat, z, size);
    const rectangle = { left: 0, top: 0, right: size, bottom: size };
    const toFrame = (x: number, y: number) => exact.forward([x, y]) as [number, number];
    const grid = buildControlGrid(tile, rectangle, toFrame, perPixel);
    const x = new Float64Array(size);
    const y = new Float64Array(size);
    let worst = 0;
    for (let row = 0; row < size; row++) {
      positionsOfRow(grid, row, x, y);
      for (let column = 0; column < size; column++) {
        const scale = (2 * mercatorEdge) / (size * 2 ** z);
        const mercatorX = (tile.x * size + column + 0.5) * scale - mercatorEdge;
        const mercatorY = mercatorEdge - (tile.y * size + row + 0.5) * scale;
        const [trueX, trueY] = viaMercator.forward([mercatorX, mercatorY]);
        worst = Math.max(worst, Math.hypot(x[column] - trueX, y[column] - trueY) / perPixel);
      }
    }
    expect(worst).toBeLessThanOrEqual(0.05);
    // Near tiles must stay cheap: at zoom 16 and closer no more than 3 × 3 exact points.
    if (z >= 16) expect(grid.cells).toBeLessThanOrEqual(2);
  });
});
