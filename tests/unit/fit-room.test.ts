import { expect, test } from 'vitest';
import { roomFor, roomToFit, shiftOutOfCover } from '../../layers/fit-room.ts';

/** A phone's map of 390 x 740 with tools over its top, a panel over its lower half and the scale on it. */

const map = { width: 390, height: 740 };
const insets = { top: 120, right: 0, bottom: 320, left: 0 };
const furniture = { width: 200, height: 46 };
const room = roomFor(
  { clientWidth: map.width, clientHeight: map.height },
  insets,
  furniture.height,
);
const shift = (x: number, y: number) => shiftOutOfCover({ x, y }, map, { insets, furniture, room });

test('room is left above the panel and the scale on it, with a margin', () => {
  expect(room).toEqual({ top: 144, right: 24, bottom: 390, left: 24 });
});

test('padding that leaves nothing to fit into is given up', () => {
  const full = { ...insets, bottom: 560 };
  expect(roomFor({ clientWidth: 390, clientHeight: 740 }, full, 46)).toEqual({ top: 24, right: 24, bottom: 24, left: 24 }); // prettier-ignore
});

test('a place under the panel, the tools or the scale comes into the room; one that is clear stays', () => {
  expect(shift(100, 300)).toBeNull();
  // The panel begins at 420, the scale at 374; right of the scale the map is clear.
  expect(shift(100, 390)).toEqual([0, -40]);
  expect(shift(300, 390)).toBeNull();
  expect(shift(300, 600)).toEqual([0, -250]);
  expect(shift(10, 60)).toEqual([14, 84]);
});

test('a place that is out of the map is let be', () => {
  expect(shift(-5, 300)).toBeNull();
  expect(shift(100, 800)).toBeNull();
});

test('what is fitted keeps below the bar of a drawing, unless that leaves nothing', () => {
  const desk = { clientWidth: 1076, clientHeight: 900 };
  const on = { top: 76, right: 0, bottom: 150, left: 0 };
  expect(roomToFit(desk, { ...on, corner: { right: 536, bottom: 240 } }, 46)).toEqual({ top: 264, right: 24, bottom: 220, left: 24 }); // prettier-ignore
  expect(roomToFit(desk, { ...on, corner: null }, 46)).toEqual(roomFor(desk, on, 46));
  expect(roomToFit(desk, { ...on, corner: { right: 536, bottom: 640 } }, 46)).toEqual(roomFor(desk, on, 46)); // prettier-ignore
});
