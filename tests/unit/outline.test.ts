import { expect, test } from 'vitest';
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

test('the repair of a bow tie is its two triangles', () => {
  const parts = repairOutline([bowTie]);
  expect(parts).toHaveLength(2);
  for (const part of parts) {
    expect(findOutlineFault(part)).toBeNull();
    expect(part[0]).toHaveLength(4);
  }
});

test('the repair covers what the crossing outline covers: a loop that winds over itself', () => {
  // A square with an ear: the crossing cuts off a triangle of a quarter of the square.
  const ear = [at(0, 0), at(2, 0), at(2, 2), at(0, 2), at(3, 1), at(0, 0)];
  const parts = repairOutline([ear]);
  expect(parts.length).toBeGreaterThan(0);
  for (const part of parts) expect(findOutlineFault(part)).toBeNull();
});
