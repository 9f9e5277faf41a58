import UPlot from 'uplot';
import 'uplot/dist/uPlot.min.css';
import { flag, ink, paper } from '../../../layers/palette.ts';
import { heightScale } from './chart-scale.ts';
import { drawPonds, type SectionPond } from './section-water.ts';

/** What a section shows; lengths and heights in the units of the plan. */
export interface SectionDrawing {
  readonly stations: readonly number[];
  readonly heights: readonly (number | null)[];
  readonly corners: readonly number[];
  readonly slopes: readonly SlopeLabel[];
  /** The storm's water, where it stands. */
  readonly ponds: readonly SectionPond[];
  readonly unit: string;
  stationText(station: number): string;
  heightText(height: number): string;
}

export interface SlopeLabel {
  readonly from: number;
  readonly to: number;
  readonly text: string;
}

export interface SectionChart {
  show(drawing: SectionDrawing): void;
  /** Points at a station; null points nowhere. */
  point(station: number | null): void;
  remove(): void;
}

export interface ChartEvents {
  /** The pointer is at a station, or has left. */
  onPoint(station: number | null): void;
  /** How many times taller than true the heights are drawn. */
  onScale(times: number): void;
}

const font = "500 14px 'IBM Plex Sans Condensed', sans-serif";
const labelFont = "600 14px 'IBM Plex Sans Condensed', sans-serif";
const rule = '#cfc9b8';
const ground = 'rgb(107 90 62 / 14%)';

/** Draws a section into an element, ink on paper, and follows its size. */
export function createSectionChart(element: HTMLElement, events: ChartEvents): SectionChart {
  let drawing: SectionDrawing | null = null;
  let isTold = false;
  const plot = new UPlot(
    options(),
    [
      [0, 1],
      [null, null],
    ],
    element,
  );

  function options(): UPlot.Options {
    return {
      width: Math.max(120, element.clientWidth),
      height: Math.max(100, element.clientHeight),
      padding: [6, 14, 0, 0],
      legend: { show: false },
      cursor: {
        y: false,
        drag: { x: false, y: false, setScale: false },
        points: { size: 12, width: 3, stroke: () => paper, fill: () => flag },
      },
      scales: { x: { time: false, range: xRange }, y: { range: yRange } },
      axes: [
        {
          font,
          stroke: ink,
          size: 30,
          gap: 4,
          space: 84,
          grid: { show: false },
          border: { show: true, stroke: ink, width: 1.5 },
          ticks: { stroke: ink, width: 1, size: 6 },
          values: (_plot, splits) => splits.map((split) => drawing?.stationText(split) ?? ''),
        },
        {
          font,
          stroke: ink,
          size: 62,
          gap: 6,
          space: 34,
          grid: { stroke: rule, width: 1 },
          ticks: { show: false },
          values: (_plot, splits) => splits.map((split) => drawing?.heightText(split) ?? ''),
        },
      ],
      series: [{}, { stroke: ink, width: 2.5, fill: ground, points: { show: false } }],
      hooks: { draw: [drawMarks], setCursor: [(self) => tell(self)] },
    };
  }

  function xRange(): [number, number] {
    return [0, drawing?.stations.at(-1) || 1];
  }

  function yRange(self: UPlot): [number, number] {
    const heights = (drawing?.heights ?? []).filter((height) => height !== null);
    if (heights.length === 0) return [0, 1];
    const lowest = heights.reduce((least, height) => Math.min(least, height), Infinity);
    const highest = heights.reduce((most, height) => Math.max(most, height), -Infinity);
    const wide = self.over.clientWidth || self.width - 76;
    const tall = self.over.clientHeight || self.height - 36;
    const scale = heightScale(xRange()[1], lowest, highest, wide, tall);
    events.onScale(scale.times);
    return [scale.bottom, scale.top];
  }

  function tell(self: UPlot): void {
    if (isTold) return;
    const { left } = self.cursor;
    const isOff = left === undefined || left === null || left < 0;
    events.onPoint(isOff ? null : self.posToVal(left, 'x'));
  }

  /** Standing water; corners of the line as dotted plumb lines; slopes over the longest straight runs. */
  function drawMarks(self: UPlot): void {
    if (!drawing) return;
    drawPonds(self, drawing.ponds, drawing);
    const { ctx } = self;
    const ratio = UPlot.pxRatio;
    ctx.save();
    ctx.strokeStyle = ink;
    ctx.lineWidth = ratio;
    ctx.setLineDash([2 * ratio, 4 * ratio]);
    for (const corner of drawing.corners.slice(1, -1)) {
      const x = self.valToPos(corner, 'x', true);
      ctx.beginPath();
      ctx.moveTo(x, self.bbox.top);
      ctx.lineTo(x, self.bbox.top + self.bbox.height);
      ctx.stroke();
    }
    ctx.setLineDash([]);
    ctx.font = labelFont.replace('14px', `${14 * ratio}px`);
    ctx.textAlign = 'center';
    ctx.textBaseline = 'alphabetic';
    for (const slope of drawing.slopes) drawSlope(self, slope, ratio);
    ctx.restore();
  }

  function drawSlope(self: UPlot, { from, to, text }: SlopeLabel, ratio: number): void {
    const { ctx } = self;
    const [x0, x1] = [self.valToPos(from, 'x', true), self.valToPos(to, 'x', true)];
    if (ctx.measureText(text).width + 10 * ratio > x1 - x0) return;
    const inside = drawing!.stations
      .map((station, i) => (station >= from && station <= to ? drawing!.heights[i] : null))
      .filter((height) => typeof height === 'number');
    if (inside.length === 0) return;
    const top = self.valToPos(Math.max(...inside), 'y', true) - 11 * ratio;
    ctx.lineWidth = 1.5 * ratio;
    ctx.beginPath();
    for (const x of [x0 + 2 * ratio, x1 - 2 * ratio]) {
      ctx.moveTo(x, top + 4 * ratio);
      ctx.lineTo(x, top - 4 * ratio);
    }
    ctx.moveTo(x0 + 2 * ratio, top);
    ctx.lineTo(x1 - 2 * ratio, top);
    ctx.stroke();
    const middle = (x0 + x1) / 2;
    ctx.lineWidth = 4 * ratio;
    ctx.strokeStyle = paper;
    ctx.strokeText(text, middle, top - 5 * ratio);
    ctx.strokeStyle = ink;
    ctx.fillStyle = ink;
    ctx.fillText(text, middle, top - 5 * ratio);
  }

  // Fingers and pens; the chart's own handlers hear only a mouse.
  const touched = (event: PointerEvent): void => {
    if (event.pointerType === 'mouse') return;
    const box = plot.over.getBoundingClientRect();
    const left = Math.max(0, Math.min(box.width, event.clientX - box.left));
    plot.setCursor({ left, top: box.height / 2 });
  };
  plot.over.style.touchAction = 'pan-y';
  plot.over.addEventListener('pointerdown', touched);
  plot.over.addEventListener('pointermove', touched);

  const sizes = new ResizeObserver(() => {
    const [width, height] = [element.clientWidth, element.clientHeight];
    if (width > 0 && height > 0) plot.setSize({ width, height });
  });
  sizes.observe(element);

  return {
    show(next) {
      drawing = next;
      plot.setData([[...next.stations], [...next.heights]]);
    },
    point(station) {
      isTold = true;
      const left = station === null ? -10 : plot.valToPos(station, 'x');
      plot.setCursor({ left, top: station === null ? -10 : plot.over.clientHeight / 2 }, false);
      isTold = false;
    },
    remove() {
      sizes.disconnect();
      plot.destroy();
    },
  };
}
