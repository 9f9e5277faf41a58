import { rgb } from '../palette.ts';

/** A small picture as the map takes it: RGBA, straight alpha, `pixelRatio` pixels per CSS pixel. */
export interface Picture {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8ClampedArray;
  readonly pixelRatio: number;
}

/** A shape of one colour: true where (x, y), in CSS pixels from the top left, is inside. */
export interface Shape {
  readonly color: string;
  readonly opacity?: number;
  readonly inside: (x: number, y: number) => boolean;
}

/** Samples per pixel and axis: nine grades of edge. */
const samples = 3;

/**
 * Draws shapes over each other, first at the bottom, with smooth edges. Without a canvas, so the
 * same picture comes out in a test, in a worker and at any pixel ratio.
 */
export function drawPicture(
  widthPixels: number,
  heightPixels: number,
  pixelRatio: number,
  shapes: readonly Shape[],
): Picture {
  const width = Math.round(widthPixels * pixelRatio);
  const height = Math.round(heightPixels * pixelRatio);
  const data = new Uint8ClampedArray(width * height * 4);
  for (const { color, opacity = 1, inside } of shapes) {
    const colour = rgb(color);
    for (let row = 0; row < height; row++) {
      for (let column = 0; column < width; column++) {
        const cover = coverage(inside, column, row, pixelRatio) * opacity;
        if (cover > 0) lay(data, (row * width + column) * 4, colour, cover);
      }
    }
  }
  return { width, height, data, pixelRatio };
}

function coverage(inside: Shape['inside'], column: number, row: number, ratio: number): number {
  let hits = 0;
  for (let j = 0; j < samples; j++) {
    const y = (row + (j + 0.5) / samples) / ratio;
    for (let i = 0; i < samples; i++) {
      if (inside((column + (i + 0.5) / samples) / ratio, y)) hits++;
    }
  }
  return hits / (samples * samples);
}

/** Lays a colour over what is there: source over, straight alpha. */
function lay(
  data: Uint8ClampedArray,
  at: number,
  colour: readonly [number, number, number],
  alpha: number,
): void {
  const below = data[at + 3] / 255;
  const total = alpha + below * (1 - alpha);
  for (let band = 0; band < 3; band++) {
    data[at + band] = (colour[band] * alpha + data[at + band] * below * (1 - alpha)) / total;
  }
  data[at + 3] = total * 255;
}

/** Inside a stroke of some width along a polyline. */
export function stroke(
  points: readonly (readonly [number, number])[],
  width: number,
): Shape['inside'] {
  return (x, y) => {
    for (let i = 1; i < points.length; i++) {
      const [ax, ay] = points[i - 1];
      const [bx, by] = points[i];
      const dx = bx - ax;
      const dy = by - ay;
      const square = dx * dx + dy * dy;
      const t = square > 0 ? ((x - ax) * dx + (y - ay) * dy) / square : 0;
      const held = Math.max(0, Math.min(1, t));
      if (Math.hypot(x - ax - held * dx, y - ay - held * dy) <= width / 2) return true;
    }
    return false;
  };
}

/** Inside a closed polygon, even-odd. */
export function polygon(points: readonly (readonly [number, number])[]): Shape['inside'] {
  return (x, y) => {
    let inside = false;
    for (let i = 0, j = points.length - 1; i < points.length; j = i++) {
      const [ax, ay] = points[i];
      const [bx, by] = points[j];
      if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) inside = !inside;
    }
    return inside;
  };
}

export function disc(cx: number, cy: number, radius: number): Shape['inside'] {
  return (x, y) => Math.hypot(x - cx, y - cy) <= radius;
}
