import { flag, ink, paper, waterRamp } from '../palette.ts';
import { disc, drawPicture, polygon, stroke, type Picture, type Shape } from './picture.ts';

/** Symbols stand on their middle; those with a bearing point up when it is 0. */
export const symbolNames = [
  ...(['seat', 'facing', 'access', 'outlet', 'soil-sample', 'note', 'point'] as const),
  ...(['building', 'well', 'heap', 'crossbar', 'flow-arrow', 'corridor-arrow'] as const),
  ...(['section-end', 'stand-place'] as const),
] as const;

export type SymbolName = (typeof symbolNames)[number];

/** The symbol in ink, or in the flag colour for what is selected. */
export function drawSymbol(name: SymbolName, selected: boolean, pixelRatio: number): Picture {
  const { size, shapes } = symbols[name];
  return drawPicture(size, size, pixelRatio, shapes(selected ? flag : ink));
}

type Points = readonly (readonly [number, number])[];

function box(left: number, top: number, right: number, bottom: number): Shape['inside'] {
  return (x, y) => x >= left && x <= right && y >= top && y <= bottom;
}

/** A shape with paper showing round it. */
function haloed(points: Points, width: number, color: string): Shape[] {
  return [
    { color: paper, opacity: 0.85, inside: stroke(points, width + 2.4) },
    { color, inside: stroke(points, width) },
  ];
}

const arrow: Points = [[5, 11], [9, 5], [13, 11]]; // prettier-ignore

const symbols: Record<SymbolName, { size: number; shapes: (color: string) => Shape[] }> = {
  seat: {
    size: 20,
    shapes: (color) => [
      { color: paper, opacity: 0.85, inside: box(1.5, 1.5, 18.5, 18.5) },
      { color, inside: box(3, 3, 17, 17) },
      { color: paper, inside: box(5, 5, 15, 15) },
      { color, inside: box(8, 8, 12, 12) },
    ],
  },
  facing: { size: 64, shapes: (color) => haloed([[32, 24], [32, 5]], 2.6, color) }, // prettier-ignore
  access: {
    size: 22,
    shapes: (color) => [
      { color: paper, opacity: 0.85, inside: polygon([[11, 0], [22, 21], [0, 21]]) }, // prettier-ignore
      { color, inside: polygon([[11, 3.5], [19, 19], [3, 19]]) }, // prettier-ignore
    ],
  },
  outlet: {
    size: 18,
    shapes: (color) => [
      { color: paper, opacity: 0.85, inside: disc(9, 9, 8.5) },
      { color, inside: disc(9, 9, 7) },
      { color: waterRamp[1], inside: disc(9, 9, 4.6) },
    ],
  },
  'soil-sample': {
    size: 18,
    shapes: (color) => [
      { color: paper, opacity: 0.9, inside: disc(9, 9, 8) },
      { color, inside: (x, y) => Math.abs(Math.hypot(x - 9, y - 9) - 5.8) <= 0.8 },
      { color, inside: stroke([[9, 5], [9, 13]], 1.5) }, // prettier-ignore
      { color, inside: stroke([[5, 9], [13, 9]], 1.5) }, // prettier-ignore
    ],
  },
  note: {
    size: 22,
    shapes: (color) => [
      ...haloed([[7, 3], [7, 19]], 1.8, color), // prettier-ignore
      { color: paper, opacity: 0.85, inside: polygon([[6, 1.5], [20, 6.5], [6, 11.5]]) }, // prettier-ignore
      { color, inside: polygon([[7.5, 3.2], [17, 6.5], [7.5, 9.8]]) }, // prettier-ignore
    ],
  },
  point: {
    size: 14,
    shapes: (color) => [
      { color: paper, opacity: 0.9, inside: disc(7, 7, 6.5) },
      { color, inside: disc(7, 7, 4) },
    ],
  },
  building: {
    size: 18,
    shapes: (color) => [
      { color: paper, opacity: 0.85, inside: polygon([[9, 0], [18, 7], [18, 18], [0, 18], [0, 7]]) }, // prettier-ignore
      { color, inside: polygon([[9, 2.5], [15.8, 8], [15.8, 16], [2.2, 16], [2.2, 8]]) }, // prettier-ignore
    ],
  },
  well: {
    size: 18,
    shapes: (color) => [
      { color: paper, opacity: 0.9, inside: disc(9, 9, 8) },
      { color, inside: (x, y) => Math.abs(Math.hypot(x - 9, y - 9) - 5.8) <= 0.8 },
      { color, inside: disc(9, 9, 2.4) },
    ],
  },
  heap: {
    size: 22,
    shapes: (color) => [
      { color: paper, opacity: 0.85, inside: polygon([[11, 1], [22, 20], [0, 20]]) }, // prettier-ignore
      ...haloed([[3, 18], [8, 8], [11, 5], [14, 8], [19, 18], [3, 18]], 1.8, color), // prettier-ignore
    ],
  },
  crossbar: { size: 16, shapes: (color) => haloed([[3, 8], [13, 8]], 1.8, color) }, // prettier-ignore
  'flow-arrow': { size: 18, shapes: (color) => haloed(arrow, 2, color) },
  'corridor-arrow': { size: 18, shapes: (color) => haloed(arrow, 1.6, color) },
  // A seat that is not there yet: its outline alone.
  'stand-place': {
    size: 20,
    shapes: (color) => [
      { color: paper, opacity: 0.85, inside: box(1.5, 1.5, 18.5, 18.5) },
      { color, inside: (x, y) => box(3, 3, 17, 17)(x, y) && !box(5, 5, 15, 15)(x, y) },
    ],
  },
  'section-end': { size: 18, shapes: (color) => haloed([[2, 9], [16, 9]], 2, color) }, // prettier-ignore
};
