import proj4 from 'proj4';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Grid } from '../../geo/raster/grid.ts';
import { finish } from '../../geo/work.ts';
import { groundTiles, photoLevels, slopeOverviews } from '../../layers/tiles/prepare-source.ts';
import { renderTile } from '../../layers/tiles/render-tile.ts';
import { slopeClass, slopeLooks } from '../../layers/tiles/paint-slope.ts';
import { worldXOf, worldYOf } from '../../layers/tiles/mercator.ts';
import type { PhotoLevel, TileSource } from '../../layers/tiles/tile-source.ts';
import type { TileKind } from '../../layers/tiles/tile-kind.ts';
import { openGdal, type Gdal } from '../gdal.ts';
import { gridOf, roughGrid, writeForGdal } from '../terrain-grids.ts';

const utm16 = proj4('+proj=utm +zone=16 +datum=NAD83');
const frame = {
  toLngLat: (x: number, y: number) => utm16.inverse([x, y]) as [number, number],
  fromLngLat: (lng: number, lat: number) => utm16.forward([lng, lat]) as [number, number],
};

function sourceOf(grid: Grid): TileSource {
  const ground = finish(groundTiles(grid, frame, 'us'));
  return {
    ground: { ...ground, slopes: finish(slopeOverviews(grid)) },
    photo: { frame, levels: finish(photoLevels(photoOf(grid))) },
  };
}

/** Red is the height's own number, so the photo path can be read back as a raster. */
function photoOf(grid: Grid): PhotoLevel {
  const pixels = new Uint8ClampedArray(grid.data.length * 4);
  grid.data.forEach((v, i) => {
    if (Number.isNaN(v)) return;
    pixels.set([v, 255 - v, 128, 255], i * 4);
  });
  return { ...grid, pixels };
}

const rough = roughGrid({ width: 600, height: 500, west: 698_000 }, 7, { noise: 0.1 });
const middle = frame.toLngLat(rough.west + 300, rough.north - 250);

function tileAt([lng, lat]: readonly [number, number], z: number, size = 256) {
  return {
    z,
    x: Math.floor(worldXOf(lng) * 2 ** z),
    y: Math.floor(worldYOf(lat) * 2 ** z),
    size,
  };
}

describe('seams', () => {
  const source = sourceOf(rough);
  test.each<TileKind>(['relief', 'slope', 'elevation', 'photo', 'contours'])(
    '%s: four tiles are the same picture as the one above them drawn twice as fine',
    (kind) => {
      let largest = 0;
      let differing = 0;
      let painted = 0;
      for (const z of [15, 17, 19]) {
        const parent = tileAt(middle, z);
        const whole = renderTile({ kind, source, ...parent, size: 512, pixelRatio: 1 })!;
        for (let child = 0; child < 4; child++) {
          const dx = child & 1;
          const dy = child >> 1;
          const part = renderTile({
            kind,
            source,
            z: z + 1,
            size: 256,
            pixelRatio: 1,
            x: parent.x * 2 + dx,
            y: parent.y * 2 + dy,
          });
          for (let row = 0; row < 256; row++) {
            for (let column = 0; column < 256; column++) {
              const a = (row * 256 + column) * 4;
              const b = ((row + dy * 256) * 512 + column + dx * 256) * 4;
              const alphaA = part ? part[a + 3] : 0;
              if (alphaA > 0) painted++;
              // Colour as it reaches the eye, over mid grey.
              for (let band = 0; band < 3; band++) {
                const seenA = over(part ? part[a + band] : 0, alphaA);
                const seenB = over(whole[b + band], whole[b + 3]);
                const difference = Math.abs(seenA - seenB);
                if (alphaA > 0 && whole[b + 3] > 0) largest = Math.max(largest, difference);
                if (difference > 3) differing++;
              }
            }
          }
        }
      }
      expect(painted).toBeGreaterThan(50_000);
      // Positions agree to 0.05 px: a hard border (edge of data, photo texture) may turn a pixel.
      expect(differing / painted).toBeLessThan(0.002);
      // Inside the data the two smooth pictures never differ visibly.
      if (kind === 'relief' || kind === 'elevation') expect(largest).toBeLessThan(4);
    },
  );
});

function over(value: number, alpha: number): number {
  return 128 + ((value - 128) * alpha) / 255;
}

describe('against gdalwarp', () => {
  let gdal: Gdal;
  beforeAll(async () => {
    gdal = await openGdal();
  });

  test.each([17, 18, 20])('photo at zoom %i is its bilinear warp to web mercator', async (z) => {
    // Smooth enough for 8 bits, with a slope that any shift of position would show.
    const grid = gridOf({ width: 400, height: 400, west: 698_000 }, (x, y) =>
      Math.round(128 + 60 * Math.sin(x / 11) + 60 * Math.cos(y / 7)),
    );
    const tile = tileAt(frame.toLngLat(grid.west + 200, grid.north - 200), z);
    const edge = 20037508.342789244;
    const span = (2 * edge) / 2 ** z;
    const west = tile.x * span - edge;
    const north = edge - tile.y * span;
    const path = writeForGdal(gdal, grid, `warp-${z}`);
    const warped = await gdal.band(
      await gdal.run(
        'gdalwarp',
        path,
        [
          '-s_srs',
          'EPSG:26916',
          '-t_srs',
          'EPSG:3857',
          '-r',
          'bilinear',
          '-et',
          '0',
          '-te',
          `${west}`,
          `${north - span}`,
          `${west + span}`,
          `${north}`,
          '-ts',
          '256',
          '256',
          '-dstnodata',
          '-9999',
          '-of',
          'GTiff',
        ],
        `warped-${z}.tif`,
      ),
    );
    const ours = renderTile({
      kind: 'photo',
      source: { ground: null, photo: { frame, levels: [photoOf(grid)] } },
      ...tile,
    })!;
    let compared = 0;
    let worst = 0;
    let mismatched = 0;
    for (let i = 0; i < 256 * 256; i++) {
      const theirs = warped.data[i];
      if (theirs === -9999 || ours[i * 4 + 3] === 0) {
        if ((theirs === -9999) !== (ours[i * 4 + 3] === 0)) mismatched++;
        continue;
      }
      compared++;
      worst = Math.max(worst, Math.abs(theirs - ours[i * 4]));
    }
    expect(compared).toBeGreaterThan(20_000);
    // The steepest rise is 60/7 a metre; 0.05 px of it at zoom 17 is 0.4, and 0.5 is rounding.
    expect(worst).toBeLessThan(1);
    expect(mismatched).toBeLessThan(compared * 0.003);
  });
});

describe('no data and edges', () => {
  test('is clear where the grid has none, and beyond the grid', () => {
    const grid = gridOf({ width: 200, height: 200 }, (x, y) => x * 0.1 + y * 0.05 + 200);
    for (let r = 80; r < 120; r++) grid.data.fill(NaN, r * 200 + 80, r * 200 + 120);
    const source = sourceOf(grid);
    const centre = frame.toLngLat(grid.west + 100, grid.north - 100);
    const tile = tileAt(centre, 18);
    const world = 256 * 2 ** 18;
    for (const kind of ['relief', 'elevation', 'photo'] as const) {
      const pixels = renderTile({ kind, source, ...tile })!;
      const alphaAt = (dx: number, dy: number) => {
        const [lng, lat] = frame.toLngLat(grid.west + 100 + dx, grid.north - 100 + dy);
        const column = Math.floor(worldXOf(lng) * world - tile.x * 256);
        const row = Math.floor(worldYOf(lat) * world - tile.y * 256);
        if (column < 0 || row < 0 || column > 255 || row > 255) return null;
        return pixels[(row * 256 + column) * 4 + 3];
      };
      let inHole = 0;
      let onGround = 0;
      for (let dx = -60; dx <= 60; dx += 3) {
        for (let dy = -60; dy <= 60; dy += 3) {
          const alpha = alphaAt(dx, dy);
          if (alpha === null) continue;
          const away = Math.max(Math.abs(dx), Math.abs(dy));
          if (away < 18) {
            expect(alpha, `${kind} in the hole at ${dx},${dy}`).toBe(0);
            inHole++;
          } else if (away > 22 && kind !== 'relief') {
            expect(alpha, `${kind} on the ground at ${dx},${dy}`).toBe(255);
            onGround++;
          }
        }
      }
      expect(inHole).toBeGreaterThan(10);
      if (kind !== 'relief') expect(onGround).toBeGreaterThan(50);
    }
    const far = renderTile({ kind: 'relief', source, ...tile, x: tile.x + 40 });
    expect(far).toBeNull();
  });

  test('a plane is shaded evenly up to its rim', () => {
    const grid = gridOf({ width: 150, height: 150 }, (x, y) => 200 + 0.2 * x - 0.1 * y);
    const tile = tileAt(frame.toLngLat(grid.west + 75, grid.north - 75), 19);
    const pixels = renderTile({ kind: 'relief', source: sourceOf(grid), ...tile })!;
    const alphas = new Set<number>();
    for (let i = 3; i < pixels.length; i += 4) if (pixels[i] > 0) alphas.add(pixels[i]);
    expect(Math.max(...alphas) - Math.min(...alphas)).toBeLessThanOrEqual(1);
  });

  test('a level flat is left clear by relief, contours and slope classes', () => {
    const grid = gridOf({ width: 150, height: 150 }, () => 0.3048 * 700);
    const tile = tileAt(frame.toLngLat(grid.west + 75, grid.north - 75), 18);
    for (const kind of ['relief', 'contours', 'slope'] as const) {
      const pixels = renderTile({ kind, source: sourceOf(grid), ...tile })!;
      for (let i = 3; i < pixels.length; i += 4) if (pixels[i] > 1) throw new Error(`${kind} ${i}`);
    }
  });

  test('throws for a tile that does not exist and a buffer of another size', () => {
    const source = { ground: null, photo: null };
    const order = { kind: 'relief' as const, source, z: 2, x: 4, y: 0, size: 256 };
    expect(() => renderTile(order)).toThrow(RangeError);
    expect(() => renderTile({ ...order, x: 0 }, new Uint8ClampedArray(12))).toThrow(RangeError);
    expect(renderTile({ ...order, x: 0 })).toBeNull();
  });
});

test('slope classes: a limit belongs to the steeper class (0-2-5-10-15-20 %)', () => {
  expect([0, 0.0199, 0.02, 0.05, 0.0999, 0.15, 0.2, 3].map(slopeClass)).toEqual([
    0, 0, 1, 2, 2, 4, 5, 5,
  ]);
});

test('slope overviews average the slope: a corrugated field stays steep from afar', () => {
  // Ridges 16 m apart, flanks of 50 %: ground averaged to 8 m is level, averaged slope is not.
  const grid = gridOf({ width: 512, height: 512 }, (x) => 200 + 0.5 * Math.abs((x % 16) - 8));
  const tile = tileAt(frame.toLngLat(grid.west + 256, grid.north - 256), 14);
  const pixels = renderTile({ kind: 'slope', source: sourceOf(grid), ...tile })!;
  const opacities: number[] = [];
  for (let i = 3; i < pixels.length; i += 4) if (pixels[i] > 0) opacities.push(pixels[i]);
  // Everything painted is at least as dark as the wash of the class over 20 %.
  expect(opacities.length).toBeGreaterThan(500);
  const light = opacities.filter((a) => a < Math.floor(slopeLooks[5].wash * 255)).length;
  expect(light / opacities.length).toBeLessThan(0.02);
});
