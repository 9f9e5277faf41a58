import { describe, expect, test } from 'vitest';
import { resampleBilinear, type ToSource } from '../../geo/raster/resample-bilinear.ts';
import { finish } from '../../geo/work.ts';

// Analytic surfaces: a plane is reproduced by bilinear sampling wherever the cell is placed exactly, so
// its error over its slope is the error of place. (gdalwarp is compared in geotiff-place.test.ts.)

const shift =
  (du: number, dv: number): ToSource =>
  (column, row, out) => {
    out[0] = column + du;
    out[1] = row + dv;
  };

function planeSource(width: number, height: number, u: number, v: number) {
  const data = Float32Array.from(
    { length: width * height },
    (_, i) => u * ((i % width) + 0.5) + v * (Math.floor(i / width) + 0.5),
  );
  return { data, width, height };
}

describe('place of cells', () => {
  test('the same cells give the same numbers', () => {
    const source = planeSource(70, 66, 1, 10);
    const out = finish(resampleBilinear(source, shift(0, 0), 70, 66));
    for (let i = 0; i < out.length; i++) expect(out[i]).toBe(source.data[i]);
  });

  // A strongly bent mapping: without splitting, a 64-cell block would be off by up to 20 cells.
  test('a bent mapping is followed to 0.05 cells', () => {
    const bent: ToSource = (column, row, out) => {
      out[0] = 30 + column + 12 * Math.sin(row / 20) + (column * column) / 900;
      out[1] = 40 + row + 9 * Math.cos(column / 15);
    };
    const across = finish(resampleBilinear(planeSource(500, 400, 1, 0), bent, 260, 260));
    const down = finish(resampleBilinear(planeSource(500, 400, 0, 1), bent, 260, 260));
    const exact = new Float64Array(2);
    let worst = 0;
    for (let row = 0; row < 260; row++) {
      for (let column = 0; column < 260; column++) {
        bent(column + 0.5, row + 0.5, exact);
        const i = row * 260 + column;
        worst = Math.max(worst, Math.abs(across[i]! - exact[0]!), Math.abs(down[i]! - exact[1]!));
      }
    }
    expect(worst).toBeLessThan(0.05);
    expect(worst).toBeGreaterThan(1e-6);
  });
});

describe('no data', () => {
  const source = { data: Float32Array.of(1, 2, 3, 4, NaN, 6, 7, 8, 9), width: 3, height: 3 };

  test('a cell is missing where its nearest one is, else the others count alone', () => {
    const quarter = finish(resampleBilinear(source, shift(0.25, 0.25), 3, 3));
    // Cell 0,0 lies at 0.75, 0.75: weights 9, 3, 3, 1 sixteenths, the last one missing.
    expect(quarter[0]).toBeCloseTo((9 * 1 + 3 * 2 + 3 * 4) / 15, 6);
    expect(quarter[4]).toBeNaN();
    const far = finish(resampleBilinear(source, shift(0.75, 0.75), 3, 3));
    // Cell 0,0 lies at 1.25, 1.25: nearest is the missing middle.
    expect(far[0]).toBeNaN();
  });

  test('half a cell beyond the edge is held, more is missing', () => {
    const near = finish(resampleBilinear(source, shift(-0.4, 0), 1, 1));
    expect(near[0]).toBe(1);
    const beyond = finish(resampleBilinear(source, shift(-0.6, 0), 1, 1));
    expect(beyond[0]).toBeNaN();
  });

  test('cells without a place there are missing, and their neighbours are exact', () => {
    const half: ToSource = (column, row, out) => {
      out[0] = column < 40 ? column : NaN;
      out[1] = row;
    };
    const out = finish(resampleBilinear(planeSource(100, 100, 1, 0), half, 100, 100));
    for (let i = 0; i < 100 * 100; i++) {
      if (i % 100 < 40) expect(out[i]).toBeCloseTo((i % 100) + 0.5, 5);
      else expect(out[i]).toBeNaN();
    }
  });
});

test('wrong lengths throw with the numbers', () => {
  const source = { data: new Float32Array(8), width: 3, height: 3 };
  expect(() => finish(resampleBilinear(source, shift(0, 0), 3, 3))).toThrow('8 cells for 3 × 3');
});
