import UPlot from 'uplot';
import { ink, paper, waterRamp } from '../../../layers/palette.ts';

/** Standing water along a section, in the units of the plan. */
export interface SectionPond {
  readonly from: number;
  readonly to: number;
  readonly level: number;
  /** Where its label stands. */
  readonly deepest: number;
  readonly text: string;
}

interface Ground {
  readonly stations: readonly number[];
  readonly heights: readonly (number | null)[];
}

/**
 * Draws the ponds of a section onto its chart: the water between its level and the ground, the level
 * as a line with the draughtsman's triangle on it, and the depth under the ground, clear of slopes.
 */
export function drawPonds(self: UPlot, ponds: readonly SectionPond[], ground: Ground): void {
  const { ctx, bbox } = self;
  const ratio = UPlot.pxRatio;
  const toX = (station: number) => self.valToPos(station, 'x', true);
  const toY = (height: number) => self.valToPos(height, 'y', true);
  ctx.save();
  for (const pond of ponds) {
    const { from, to, level } = pond;
    const [left, right, y] = [toX(from), toX(to), toY(level)];
    const bottom = bottomOf(pond, ground);
    ctx.fillStyle = waterRamp[1];
    ctx.strokeStyle = waterRamp[4];
    ctx.beginPath();
    ctx.moveTo(left, y);
    for (const [station, height] of bottom) ctx.lineTo(toX(station), toY(height));
    ctx.lineTo(right, y);
    ctx.closePath();
    ctx.fill();
    ctx.lineWidth = 2 * ratio;
    ctx.beginPath();
    ctx.moveTo(left, y);
    ctx.lineTo(right, y);
    ctx.stroke();
    triangle(ctx, (left + right) / 2, y, ratio);
    const deepest = bottom.reduce((least, [, height]) => Math.min(least, height), level);
    const foot = Math.min(toY(deepest) + 17 * ratio, bbox.top + bbox.height - 4 * ratio);
    ctx.textAlign = 'center';
    ctx.textBaseline = 'alphabetic';
    ctx.font = `600 ${14 * ratio}px 'IBM Plex Sans Condensed', sans-serif`;
    const half = ctx.measureText(pond.text).width / 2;
    const x = Math.max(
      bbox.left + half,
      Math.min(bbox.left + bbox.width - half, toX(pond.deepest)),
    );
    ctx.lineWidth = 4 * ratio;
    ctx.strokeStyle = paper;
    ctx.strokeText(pond.text, x, foot);
    ctx.fillStyle = ink;
    ctx.fillText(pond.text, x, foot);
  }
  ctx.restore();
}

/** The ground under a pond, held to its level: what is drawn on the ground may stand above it. */
function bottomOf({ from, to, level }: SectionPond, { stations, heights }: Ground) {
  const bottom: [number, number][] = [];
  stations.forEach((station, i) => {
    const height = heights[i] ?? null;
    if (station > from && station < to && height !== null) {
      bottom.push([station, Math.min(height, level)]);
    }
  });
  return bottom;
}

function triangle(ctx: CanvasRenderingContext2D, x: number, y: number, ratio: number): void {
  const size = 5 * ratio;
  ctx.beginPath();
  ctx.moveTo(x, y);
  ctx.lineTo(x - size, y - 1.6 * size);
  ctx.lineTo(x + size, y - 1.6 * size);
  ctx.closePath();
  ctx.lineWidth = 1.5 * ratio;
  ctx.fillStyle = paper;
  ctx.fill();
  ctx.stroke();
}
