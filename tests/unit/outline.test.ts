import { expect, test } from 'vitest';
import { zoneFrame } from '../../geo/frame/zone-frame.ts';
import { findOutlineFault } from '../../geo/plan/outline-faults.ts';
import { repairOutline } from '../../geo/plan/outline-repair.ts';
import type { Position } from '../../geo/plan/feature.ts';

// Shapes whose answer is plain geometry; coordinates about one thousandth of a degree.
const at = (x: number, y: number): Position => [-75 + x / 1000, 36 + y / 1000];
const square = [at(0, 0), at(1, 0), at(1, 1), at(0, 1), at(0, 0)];
const bowTie = [at(0, 0), at(1, 1), at(1, 0), at(0, 1), at(0, 0)];

test('a sound outline has no fault, with or without a hole, a doubled corner or a straight corner', () => {
  expect(findOutlineFault([square])).toBeNull();
  const hole = [at(0.2, 0.2), at(0.2, 0.4), at(0.4, 0.4), at(0.4, 0.2), at(0.2, 0.2)];
  expect(findOutlineFault([square, hole])).toBeNull();
  const doubled = [at(0, 0), at(1, 0), at(1, 0), at(1, 1), at(0, 1), at(0, 0)];
  expect(findOutlineFault([doubled])).toBeNull();
  const straight = [at(0, 0), at(0.5, 0), at(1, 0), at(1, 1), at(0, 1), at(0, 0)];
  expect(findOutlineFault([straight])).toBeNull();
});

test('a crossing is found and where it is', () => {
  const fault = findOutlineFault([bowTie]);
  expect(fault?.fault).toBe('crosses-itself');
  expect(fault?.at[0]).toBeCloseTo(-74.9995, 9);
  expect(fault?.at[1]).toBeCloseTo(36.0005, 9);
});

test('touching itself, folding back and a hole over the edge are faults', () => {
  const touching = [at(0, 0), at(2, 0), at(1, 1), at(2, 2), at(0, 2), at(1, 1), at(0, 0)];
  expect(findOutlineFault([touching])?.fault).toBe('crosses-itself');
  const folded = [at(0, 0), at(2, 0), at(1, 0), at(1, 1), at(0, 0)];
  expect(findOutlineFault([folded])?.fault).toBe('crosses-itself');
  const hole = [at(0.5, 0.5), at(0.5, 2), at(0.7, 2), at(0.7, 0.5), at(0.5, 0.5)];
  expect(findOutlineFault([square, hole])?.fault).toBe('crosses-itself');
});

test('a hole wholly outside is a fault', () => {
  const outside = [at(2, 2), at(2, 3), at(3, 3), at(2, 2)];
  expect(findOutlineFault([square, outside])?.fault).toBe('hole-outside');
});

test('corners on one line enclose nothing', () => {
  expect(findOutlineFault([[at(0, 0), at(1, 1), at(3, 3), at(0, 0)]])?.fault).toBe('no-area');
});

/** Its figures by the shoelace formula in metres of the zone; 3 m of ground is no edge's own. */
const frame = zoneFrame(-75, 36);
const repair = (rings: Position[][]) => repairOutline(rings, frame, 3);

test('the repair of a bow tie is its two triangles', () => {
  const { parts, slivers } = repair([bowTie]);
  expect(parts).toHaveLength(2);
  expect(slivers).toBe(0);
  for (const part of parts) {
    expect(findOutlineFault(part)).toBeNull();
    expect(part[0]).toHaveLength(4);
  }
});

test('the repair covers what the crossing outline covers: a loop that winds over itself', () => {
  // A square with an ear: the crossing cuts off a triangle of a quarter of the square.
  const ear = [at(0, 0), at(2, 0), at(2, 2), at(0, 2), at(3, 1), at(0, 0)];
  const { parts } = repair([ear]);
  expect(parts.length).toBeGreaterThan(0);
  for (const part of parts) expect(findOutlineFault(part)).toBeNull();
});

// One thousandth of a degree here is 90 m east and 111 m north (WGS 84: 111,320 m × cos 36° and
// 110,960 m a degree), so 0.02 of it is about 2 m.
test('slivers along a crossing are no parts of their own, and it is said how much they were', () => {
  // The last edge strays 2 m over the first one on its way back to the start.
  const stray = [at(0, 0), at(2, 0), at(2, 2), at(0, 2), at(0, 0.1), at(0.5, -0.02), at(0, 0)];
  const { parts, slivers, sliverSquareMeters } = repair([stray]);
  expect(parts).toHaveLength(1);
  expect(findOutlineFault(parts[0]!)).toBeNull();
  expect(slivers).toBe(1);
  // It crosses back where it has come down by 0.1 of 0.12, and a triangle hangs below.
  const crossing = 0.5 * (0.1 / 0.12);
  expect(sliverSquareMeters / ((crossing * 90.06 * 0.02 * 110.96) / 2)).toBeCloseTo(1, 2);
});

test('the repair keeps a drawn hole however small, and what is all there is', () => {
  const pit = [at(0.5, 0.05), at(0.5, 0.06), at(0.51, 0.06), at(0.51, 0.05), at(0.5, 0.05)];
  const crossing = [at(0, 0), at(1, 0), at(1, 1), at(0, 1), at(2, 0.5), at(0, 0)];
  const { parts } = repair([crossing, pit]);
  expect(parts.some(([, ...holes]) => holes.length === 1)).toBe(true);
  const narrow = [at(0, 0), at(1, 0.01), at(1, 0), at(0, 0.01), at(0, 0)];
  expect(repair([narrow]).parts).toHaveLength(1);
});

test('nothing comes of an outline that encloses nothing', () => {
  expect(repair([[at(0, 0), at(1, 1), at(3, 3), at(0, 0)]]).parts).toEqual([]);
});
