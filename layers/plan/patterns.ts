import { earth, ink, leaf, leafText, waterRamp } from '../palette.ts';
import { disc, drawPicture, stroke, type Picture, type Shape } from './picture.ts';

/** Repeating grounds; each joins itself on all sides (a test holds it). */
export const patternNames = [
  ...(['plot-dots', 'earth', 'earth-falling', 'no-go', 'bedding', 'timber', 'corridor'] as const),
  ...(['water-1', 'water-2', 'water-3'] as const),
] as const;

export type PatternName = (typeof patternNames)[number];

export function drawPattern(name: PatternName, pixelRatio: number): Picture {
  const { size, shapes } = patterns[name];
  return drawPicture(size, size, pixelRatio, shapes);
}

/** Lines rising to the right; `pitch` must divide the tile's size. */
function diagonal(pitch: number, width: number): Shape['inside'] {
  return (x, y) => {
    const along = (((x + y) % pitch) + pitch) % pitch;
    return Math.min(along, pitch - along) / Math.SQRT2 <= width / 2;
  };
}

/** Lines falling to the right, broken: on for `on` of every `pitch` pixels across. */
function brokenFalling(pitch: number, width: number, on: number): Shape['inside'] {
  return (x, y) => {
    const along = (((x - y) % pitch) + pitch) % pitch;
    const across = (((x + y) % pitch) + pitch) % pitch;
    return Math.min(along, pitch - along) / Math.SQRT2 <= width / 2 && across < on;
  };
}

function level(pitch: number, width: number): Shape['inside'] {
  return (_x, y) => Math.abs((((y % pitch) + pitch) % pitch) - pitch / 2) <= width / 2;
}

/** Crowns seen from above, as rings; one that passes an edge comes in again on the other side. */
function crowns(
  size: number,
  places: readonly (readonly [x: number, y: number, radius: number])[],
): Shape['inside'] {
  const wrapped = (d: number): number => d - size * Math.round(d / size);
  return (x, y) =>
    places.some(([cx, cy, radius]) => {
      const away = Math.hypot(wrapped(x - cx), wrapped(y - cy));
      return away <= radius && away >= radius - 0.9;
    });
}

const rising8 = diagonal(8, 1.5);

const crownPlaces = [
  [6, 7, 3.6],
  [22, 4, 2.8],
  [14, 17, 3.2],
  [29, 19, 3.8],
  [5, 26, 2.6],
  [20, 28, 3.4],
] as const;

const patterns: Record<PatternName, { size: number; shapes: readonly Shape[] }> = {
  'plot-dots': { size: 9, shapes: [{ color: leaf, opacity: 0.85, inside: disc(4.5, 4.5, 1) }] },
  earth: { size: 8, shapes: [{ color: earth, inside: rising8 }] },
  'earth-falling': {
    size: 8,
    shapes: [{ color: earth, inside: (x, y) => rising8(x, -y) }],
  },
  'no-go': { size: 12, shapes: [{ color: ink, opacity: 0.75, inside: diagonal(12, 1.1) }] },
  bedding: {
    size: 12,
    shapes: [{ color: earth, opacity: 0.9, inside: brokenFalling(12, 1.2, 7) }],
  },
  timber: {
    size: 32,
    shapes: [{ color: leafText, opacity: 0.42, inside: crowns(32, crownPlaces) }],
  },
  corridor: {
    size: 14,
    shapes: [
      { color: earth, opacity: 0.7, inside: stroke([[3, 9], [6, 5], [9, 9]], 1.1) }, // prettier-ignore
    ],
  },
  'water-1': { size: 8, shapes: [{ color: waterRamp[4], opacity: 0.6, inside: level(8, 0.9) }] },
  'water-2': { size: 6, shapes: [{ color: waterRamp[4], opacity: 0.7, inside: level(6, 1) }] },
  'water-3': { size: 4, shapes: [{ color: waterRamp[4], opacity: 0.8, inside: level(4, 1.1) }] },
};
