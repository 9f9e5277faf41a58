import { describe, expect, it } from 'vitest';
import type { Grid } from '../../geo/raster/grid.ts';
import { fillBasins, findBasins } from '../../geo/water/fill-basins.ts';
import { ENDS, Facets } from '../../geo/water/flow-facets.ts';
import { FlowBuffers, endsAt, flowCatchments } from '../../geo/water/flow-lines.ts';
import { traceFlowLines, type FlowLine } from '../../geo/water/flow-line-trace.ts';
import { flowPointers } from '../../geo/water/flow-pointers.ts';
import { NO_DATA, pointerSteps } from '../../geo/water/pointer-codes.ts';
import { FlowSplit } from '../../geo/water/flow-split.ts';
import { FlowWays } from '../../geo/water/flow-ways.ts';
import { finish } from '../../geo/work.ts';
import { seeded } from '../seeded.ts';
import { gridOf, gridOfRows, roughGrid } from '../terrain-grids.ts';

/**
 * GDAL has no flow accumulation, and the tables of Tarboton 1997 could not be read: catchments are
 * held against geometry (planes, cones, swales), directions against the handbook's section 10.
 */
const areasOf = (grid: Grid) => finish(flowCatchments(grid, grid.data)).areaSquareMeters;
const filledOf = (grid: Grid) => finish(fillBasins(grid, finish(findBasins(grid))));

function splitOf(grid: Grid): FlowSplit {
  const pointers = finish(flowPointers(grid, new Uint8Array(grid.data.length)));
  const ways = new Uint8Array(grid.data.length);
  const shares = new Float32Array(grid.data.length);
  const flowWays = new FlowWays(grid, grid.data);
  for (let row = 0; row < grid.height; row++) flowWays.row(row, pointers, ways, shares);
  return new FlowSplit(grid, grid.data, ways, shares);
}

/** What steepest-of-eight gives: the slow way, for comparison. */
function eightNeighbourCells(grid: Grid): Float64Array {
  const { data, width, height } = grid;
  const order = Array.from(data.keys()).sort((a, b) => data[b]! - data[a]!);
  const cells = new Float64Array(data.length).fill(1);
  const steps = pointerSteps(width);
  for (const cell of order) {
    const row = Math.floor(cell / width);
    const column = cell % width;
    if (row === 0 || column === 0 || row === height - 1 || column === width - 1) continue;
    let best = 0;
    let to = -1;
    for (const [k, step] of steps.entries()) {
      const drop = (data[cell]! - data[cell + step]!) / ([0, 2, 5, 7].includes(k) ? Math.SQRT2 : 1);
      if (drop > best) {
        best = drop;
        to = cell + step;
      }
    }
    if (to >= 0) cells[to]! += cells[cell]!;
  }
  return cells;
}

describe('directions', () => {
  it('row by row are the same to the last bit as triangle by triangle, equal ones too', () => {
    for (let seed = 1; seed <= 200; seed++) {
      const random = seeded(seed);
      const [cellWidth, cellHeight] = seed % 3 === 0 ? [2, 1.3] : [1, 1];
      // Coarse heights make neighbours and triangles that fall equally.
      const stepsPerMeter = seed % 2 === 0 ? 2 : 5000 + random();
      const shape = { width: 23, height: 19, cellWidth, cellHeight };
      const grid = roughGrid(shape, seed, { holes: seed % 5 === 0, stepsPerMeter });
      const { data } = grid;
      const pointers = finish(flowPointers(grid, new Uint8Array(data.length)));
      const [ways, shares] = [new Uint8Array(data.length), new Float32Array(data.length)];
      const [ways2, shares2] = [new Uint8Array(data.length), new Float32Array(data.length)];
      const flowWays = new FlowWays(grid, data);
      const facets = new Facets(grid, data);
      for (let row = 0; row < grid.height; row++) flowWays.row(row, pointers, ways, shares);
      for (let cell = 0; cell < data.length; cell++) {
        if (pointers[cell]! >= 8) ways2[cell] = ENDS;
        else if (facets.steepest(cell) === 0) ways2[cell] = 8 + pointers[cell]!;
        else facets.write(cell, ways2, shares2);
      }
      expect(ways, `seed ${seed}`).toEqual(ways2);
      expect(shares.filter((_, i) => ways[i]! < 8)).toEqual(shares2.filter((_, i) => ways[i]! < 8));
    }
  });

  it('of the handbook test ground (cells of 3 m)', () => {
    // Angles counter-clockwise from east, handbook section 10: 45, 90, 135, 291.80, 270, 191.31.
    const split = splitOf(
      gridOfRows(
        [
          [13, 9, 5, 9, 11],
          [11, 9, 9, 11, 12],
          [9, 6.5, 7, 13, 14],
          [8, 6, 5.8, 30, 12],
        ],
        3,
      ),
    );
    const streams = (row: number, column: number) => {
      const count = split.from(row * 5 + column);
      const found: Record<number, number> = {};
      for (let k = 0; k < count; k++) {
        found[split.to[k]!] = (found[split.to[k]!] ?? 0) + split.share[k]!;
      }
      return found;
    };
    const tan = (degrees: number) => Math.tan((degrees * Math.PI) / 180);
    expect(streams(1, 1)).toEqual({ 2: 1 });
    expect(streams(1, 2)).toEqual({ 2: 1 });
    expect(streams(1, 3)).toEqual({ 2: 1 });
    expect(streams(2, 2)).toEqual({ 17: 1 });
    // Between two neighbours the share of the diagonal is the tangent of the angle.
    const southEast = streams(2, 1);
    expect(southEast[17]).toBeCloseTo(tan(291.8 - 270), 3);
    expect(southEast[16]).toBeCloseTo(1 - tan(21.8), 3);
    const southWest = streams(2, 3);
    expect(southWest[17]).toBeCloseTo(tan(191.31 - 180), 3);
    expect(southWest[12]).toBeCloseTo(1 - tan(11.31), 3);
  });

  it('on a plane the middle of the flow keeps to the steepest fall, whatever the cells', () => {
    const shapes = [
      [1, 1],
      [2, 1],
      [1, 1.7],
    ] as const;
    for (const [cellWidth, cellHeight] of shapes) {
      for (const bearing of [3, 22.5, 40, 67, 100, 171, 222, 305]) {
        const east = Math.sin((bearing * Math.PI) / 180);
        const north = Math.cos((bearing * Math.PI) / 180);
        const grid = gridOf(
          { width: 61, height: 61, cellWidth, cellHeight },
          (x, y) => 500 - 2 * (x * east + y * north),
        );
        const split = splitOf(grid);
        // Pour 1 on the middle cell and let it go 20 steps.
        let now = new Map([[30 * 61 + 30, 1]]);
        for (let step = 0; step < 20; step++) {
          const then = new Map<number, number>();
          for (const [cell, amount] of now) {
            const count = split.from(cell);
            for (let k = 0; k < count; k++) {
              then.set(split.to[k]!, (then.get(split.to[k]!) ?? 0) + amount * split.share[k]!);
            }
          }
          now = then;
        }
        let x = 0;
        let y = 0;
        for (const [cell, amount] of now) {
          x += amount * ((cell % 61) - 30) * cellWidth;
          y -= amount * (Math.floor(cell / 61) - 30) * cellHeight;
        }
        const off = (Math.atan2(x * north - y * east, x * east + y * north) * 180) / Math.PI;
        // Heights are 32-bit: a hundredth of a degree.
        expect(Math.abs(off)).toBeLessThan(0.01);
      }
    }
  });
});

describe('catchments', () => {
  it('on a plane are the length of slope above, for any way it falls', () => {
    const size = 120;
    // Falls that 32-bit heights hold exactly.
    for (const sideways of [0, 1 / 64, 0.3125, -0.75, 1]) {
      const grid = gridOf(
        { width: size, height: size, cellWidth: 2, cellHeight: 2 },
        (x, y) => y - sideways * x,
      );
      const areas = areasOf(grid);
      // Cells that no water from beyond the side rims could have reached.
      for (let row = 1; row < size / 2 - 2; row++) {
        for (let column = row + 1; column < size - row - 1; column++) {
          expect(Math.abs(areas[row * size + column]! / 4 - row)).toBeLessThan(row * 1e-9);
        }
      }
    }
  });

  it('on a round hill and in a funnel are those of geometry', () => {
    const size = 401;
    const middle = size / 2;
    const far = (x: number, y: number) => Math.hypot(x - middle, y - middle);
    const rim = 190;
    const hill = gridOf({ width: size, height: size }, (x, y) => 1000 - far(x, y));
    const funnel = gridOf({ width: size, height: size }, (x, y) =>
      far(x, y) <= rim ? far(x, y) : NaN,
    );
    for (const [grid, per] of [
      // Catchment per metre of contour: a sector r²/2 over an arc r, and (R² − r²)/2 over r.
      [hill, (r: number) => r / 2],
      [funnel, (r: number) => ((rim - 1) ** 2 - r * r) / (2 * r)],
    ] as const) {
      const ours = areasOf(grid);
      const eight = eightNeighbourCells(grid);
      const error = (areas: Float64Array) => {
        let squares = 0;
        let sum = 0;
        let count = 0;
        for (let row = 1; row < size - 1; row++) {
          for (let column = 1; column < size - 1; column++) {
            const x = column + 0.5 - middle;
            const y = middle - row - 0.5;
            const r = Math.hypot(x, y);
            if (r < 30 || r > 160) continue;
            // A cell stands for this much of the contour, as the plane shows.
            const wide = Math.max(Math.abs(x), Math.abs(y)) / r;
            const relative = areas[row * size + column]! / (per(r) * wide) - 1;
            squares += relative * relative;
            sum += relative;
            count++;
          }
        }
        return { mean: sum / count, rms: Math.sqrt(squares / count) };
      };
      const { mean, rms } = error(ours);
      expect(Math.abs(mean)).toBeLessThan(0.02);
      expect(rms).toBeLessThan(0.12);
      expect(error(eight).rms).toBeGreaterThan(4 * rms);
    }
    // All that lies inside the funnel's rim comes to its middle cell.
    const areas = areasOf(funnel);
    let inside = 0;
    const pointers = finish(flowPointers(funnel, new Uint8Array(funnel.data.length)));
    for (let i = 0; i < pointers.length; i++)
      if (!endsAt(pointers[i]!)) inside += areas[i] === areas[i] ? 1 : 0;
    const most = areas.reduce((a, b) => (b > a ? b : a), 0);
    expect(Math.abs(most - inside - 1)).toBeLessThan(1e-6);
  });

  it('of a gap in a smooth 12 % swale are those of geometry, where eight neighbours give half', () => {
    // z = 0.12 y + k x²: a flow line that ends at x began at x exp(2 k y / 0.12). The gap is 12 m
    // wide at y = 0; the swale is 240 m wide and 200 m long.
    const bend = 0.0002;
    const long = 200;
    const grid = gridOf(
      { width: 241, height: long + 2 },
      (x, y) => 0.12 * y + bend * (x - 120.5) ** 2,
    );
    let squareMeters = 0;
    for (let y = 0.5; y < long; y++) {
      squareMeters += 2 * Math.min(119.5, 6.5 * Math.exp((2 * bend * y) / 0.12));
    }
    const ours = areasOf(grid);
    const eight = eightNeighbourCells(grid);
    let caught = 0;
    let caughtByEight = 0;
    for (let column = 114; column <= 126; column++) {
      caught += ours[long * 241 + column]!;
      caughtByEight += eight[long * 241 + column]!;
    }
    expect(Math.abs(caught / squareMeters - 1)).toBeLessThan(0.01);
    expect(caughtByEight / squareMeters).toBeLessThan(0.75);
  });

  it('balance: what leaves is all the ground there is, on 300 seeded grounds', () => {
    const buffers = new FlowBuffers();
    for (let seed = 1; seed <= 300; seed++) {
      const next = seeded(seed);
      const shape = {
        width: seed % 20 === 0 ? 1 : 2 + Math.floor(next() * 40),
        height: seed % 20 === 10 ? 1 : 2 + Math.floor(next() * 40),
        cellWidth: 1 + next(),
        cellHeight: 1 + next(),
      };
      const levels = seed % 3 === 0 ? 2 + Math.floor(next() * 6) : 0;
      const grid = roughGrid(shape, seed, { holes: seed % 4 === 0, noise: 4 });
      if (levels > 0)
        for (let i = 0; i < grid.data.length; i++) grid.data[i] = (next() * levels) | 0;
      const filled = filledOf(grid);
      const { areaSquareMeters, pointers } = finish(flowCatchments(grid, filled, { buffers }));
      let left = 0;
      let cells = 0;
      for (let i = 0; i < filled.length; i++) {
        expect(Number.isNaN(areaSquareMeters[i]!)).toBe(pointers[i] === NO_DATA);
        if (pointers[i] === NO_DATA) continue;
        cells++;
        if (endsAt(pointers[i]!)) left += areaSquareMeters[i]!;
      }
      const whole = cells * grid.cellGroundAreaSquareMeters;
      expect(Math.abs(left - whole)).toBeLessThanOrEqual(1e-9 * whole);
    }
  });

  it('flip and turn with the ground, equal falls among them', () => {
    const flips = [
      (row: number, column: number, size: number) => row * size + (size - 1 - column),
      (row: number, column: number, size: number) => (size - 1 - row) * size + column,
      (row: number, column: number, size: number) => column * size + row,
    ];
    const size = 81;
    const middle = size / 2;
    const grounds = [
      roughGrid({ width: size, height: size }, 3, { noise: 2 }),
      gridOf({ width: size, height: size }, (x, y) => 90 - Math.hypot(x - middle, y - middle)),
      gridOf({ width: size, height: size }, (x, y) =>
        Math.max(Math.abs(x - middle), Math.abs(y - middle)),
      ),
      gridOf({ width: size, height: size }, (x, y) => -Math.abs(x - middle) - Math.abs(y - middle)),
    ];
    for (const grid of grounds) {
      const straight = areasOf(grid);
      for (const flip of flips) {
        const flipped = { ...grid, data: new Float32Array(size * size) };
        for (let r = 0; r < size; r++) {
          for (let c = 0; c < size; c++) {
            flipped.data[flip(r, c, size)] = grid.data[r * size + c]!;
          }
        }
        const theirs = areasOf(flipped);
        let worst = 0;
        for (let r = 0; r < size; r++) {
          for (let c = 0; c < size; c++) {
            const ours = straight[r * size + c]!;
            worst = Math.max(worst, Math.abs(theirs[flip(r, c, size)]! / ours - 1));
          }
        }
        expect(worst).toBeLessThan(1e-12);
      }
    }
  });

  it('goes across a filled hollow and out by its spill', () => {
    const grid = gridOf({ width: 60, height: 40 }, (_, y) => 10 + 0.1 * y);
    for (let r = 15; r < 25; r++) for (let c = 20; c < 40; c++) grid.data[r * 60 + c]! -= 2;
    const { areaSquareMeters: raw } = finish(flowCatchments(grid, grid.data));
    const { areaSquareMeters: full } = finish(flowCatchments(grid, filledOf(grid)));
    const below = (areas: Float64Array) =>
      areas.slice(38 * 60 + 5, 38 * 60 + 55).reduce((sum, area) => sum + area, 0);
    // 38 rows in 50 columns; the hollow keeps its own 10 rows and the 14 above, in 20 columns.
    expect(below(full)).toBeCloseTo(50 * 38, 6);
    // … and what lies beside it tips in, at most two columns.
    expect(below(raw)).toBeLessThanOrEqual(50 * 38 - 20 * 24);
    expect(below(raw)).toBeGreaterThan(50 * 38 - 24 * 24);
  });

  it('knows what is no ground', () => {
    const empty = gridOf({ width: 9, height: 7 }, () => NaN);
    expect(areasOf(empty).every(Number.isNaN)).toBe(true);
    const one = gridOf({ width: 1, height: 1 }, () => 3);
    expect([...areasOf(one)]).toEqual([1]);
    const flat = gridOf({ width: 50, height: 30 }, () => 3);
    expect(Math.max(...areasOf(flat))).toBeLessThan(1500);
    expect(() => finish(flowCatchments(flat, new Float32Array(3)))).toThrow(RangeError);
  });
});

describe('lines', () => {
  const linesOf = (grid: Grid, thresholdSquareMeters: number, minLengthMeters = 20): FlowLine[] => {
    const filled = filledOf(grid);
    const flow = finish(flowCatchments(grid, filled));
    return finish(traceFlowLines(grid, filled, flow, { thresholdSquareMeters, minLengthMeters }));
  };

  it('a draw has one line down its middle, from where the threshold is drained to the rim', () => {
    const grid = gridOf(
      { width: 201, height: 300 },
      (x, y) => 0.05 * y + 0.04 * Math.abs(x - 100.5),
    );
    const lines = linesOf(grid, 2000);
    expect(lines.length).toBe(1);
    const { points, catchmentSquareMeters, into } = lines[0]!;
    expect(into).toBeNull();
    for (const [x] of points) expect(Math.abs(x - 500_100.5)).toBeLessThanOrEqual(1);
    expect(points.at(-1)![1]).toBeCloseTo(4_800_000 - 299.5, 6);
    expect(catchmentSquareMeters[0]).toBeGreaterThanOrEqual(2000);
    expect(catchmentSquareMeters[0]).toBeLessThan(2400);
    // Sides fall 0.04 across and 0.05 down the draw: a point at x comes in at y − 1.25 |x|, so
    // the whole draw but its two lower corners (100 m wide, 125 m high) comes through the end.
    const whole = 201 * 300 - 100 * 125;
    expect(Math.abs(catchmentSquareMeters.at(-1)! / whole - 1)).toBeLessThan(0.02);
    catchmentSquareMeters.forEach((area, i, all) => {
      if (i > 0) expect(area).toBeGreaterThanOrEqual(all[i - 1]!);
    });
  });

  it('a plain slope and a round hill have none, though their feet drain the threshold', () => {
    const plane = gridOf({ width: 300, height: 300 }, (x, y) => 0.05 * y + 0.013 * x);
    expect(linesOf(plane, 100)).toEqual([]);
    const hill = gridOf({ width: 301, height: 301 }, (x, y) => -Math.hypot(x - 150.5, y - 150.5));
    expect(linesOf(hill, 40)).toEqual([]);
  });

  it('two draws join in one', () => {
    // A Y: two draws run together at y = 150 and go on as one.
    const grid = gridOf({ width: 241, height: 320 }, (x, y) => {
      const apart = Math.max(0, (y - 150) * 0.4);
      return 0.05 * y + 0.05 * Math.min(Math.abs(x - 120.5 - apart), Math.abs(x - 120.5 + apart));
    });
    const lines = linesOf(grid, 1500);
    expect(lines.length).toBe(2);
    const [main, branch] = lines as [FlowLine, FlowLine];
    expect(main.into).toBeNull();
    expect(branch.into).toBe(0);
    const joint = branch.points.at(-1)!;
    expect(Math.abs(joint[1] - (4_800_000 - 320 + 150))).toBeLessThan(15);
    // The joint is a corner of the main line too, and carries both.
    const at = main.points.findIndex(([x, y]) => x === joint[0] && y === joint[1]);
    expect(at).toBeGreaterThan(0);
    expect(main.catchmentSquareMeters.at(-1)!).toBeGreaterThan(
      2 * branch.catchmentSquareMeters.at(-2)!,
    );
  });

  it('rough ground: lines lie on cells over the threshold, run downhill and end where said', () => {
    const grid = roughGrid({ width: 300, height: 260, cellWidth: 2, cellHeight: 2 }, 8, {
      noise: 0.3,
      holes: true,
    });
    const filled = filledOf(grid);
    const flow = finish(flowCatchments(grid, filled));
    const options = { thresholdSquareMeters: 2000, minLengthMeters: 30, toleranceMeters: 0 };
    const lines = finish(traceFlowLines(grid, filled, flow, options));
    expect(lines.length).toBeGreaterThan(10);
    const cellAt = ([x, y]: readonly [number, number]) =>
      Math.floor((grid.north - y) / 2) * grid.width + Math.floor((x - grid.west) / 2);
    for (const line of lines) {
      expect(line.points.length).toBe(line.catchmentSquareMeters.length);
      for (const [i, point] of line.points.entries()) {
        const area = flow.areaSquareMeters[cellAt(point)]!;
        expect(line.catchmentSquareMeters[i]).toBe(area);
        if (i === 0) expect(area).toBeGreaterThanOrEqual(2000);
        const joins = i === line.points.length - 1 && line.into !== null;
        if (i > 0 && !joins) {
          expect(filled[cellAt(point)]!).toBeLessThanOrEqual(filled[cellAt(line.points[i - 1]!)]!);
        }
      }
      const last = cellAt(line.points.at(-1)!);
      if (line.into === null) expect(endsAt(flow.pointers[last]!)).toBe(true);
      else expect(lines[line.into]).toBeDefined();
    }
    const again = finish(traceFlowLines(grid, filled, flow, options));
    expect(again).toEqual(lines);
    expect(() => finish(traceFlowLines(grid, filled, flow, { thresholdSquareMeters: 0 }))).toThrow(
      RangeError,
    );
  });
});
