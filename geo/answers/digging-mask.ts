import { isKind, type PlanFeature } from '../plan/feature.ts';
import { bandAround } from '../plan/line-geometry.ts';
import { polygonMask } from '../raster/polygon-mask.ts';
import type { GroundInUse, Inputs } from './definition.ts';
import { inFrame } from './ground-inputs.ts';

/** Why a cell may not be dug; codes of the mask, from 1. */
export const diggingBars = [
  'outside-the-property',
  'wetland',
  'utility',
  'neighbour-or-road',
  'no-go',
] as const;

export type DiggingBar = (typeof diggingBars)[number];

const readKinds = ['property-line', 'no-go', 'buried-line', 'structure'] as const;

/** What `diggingMask` reads of a plan. */
export const diggingReads = readKinds.map((kind) => `features:${kind}` as const);

/** Nobody knows to the foot where a buried line lies: kept off this far on both sides, metres. */
const LINE_MARGIN = 3;

/**
 * Where no notch may go: off the property (when its line is drawn), wetland and stream buffers,
 * buried lines, neighbours' and public roads and buildings, other no-go ground. Per cell 0, or
 * 1 + the place of the reason in `diggingBars`. A stop that comes before any cut.
 */
export function diggingMask(inputs: Inputs, ground: GroundInUse): Uint8Array {
  const mask = new Uint8Array(ground.grid.data.length);
  const property = inputs.features('property-line').filter(({ geometry }) => geometry.type === 'Polygon'); // prettier-ignore
  if (property.length > 0) {
    mask.fill(codeOf('outside-the-property'));
    for (const one of property) paint(mask, ground, one, 0);
  }
  for (const kind of ['no-go', 'structure', 'buried-line'] as const) {
    for (const one of inputs.features(kind)) {
      const bar = barOf(one);
      if (bar) paint(mask, ground, one, codeOf(bar));
    }
  }
  return mask;
}

export function codeOf(bar: DiggingBar): number {
  return diggingBars.indexOf(bar) + 1;
}

function barOf(one: PlanFeature): DiggingBar | null {
  if (isKind(one, 'buried-line')) return 'utility';
  if (isKind(one, 'structure')) {
    const { use, ownedBy } = one.properties;
    // The owner's own track is crossed with a dip or a pipe; a building is not dug under.
    if (ownedBy === 'owner' && (use === 'track' || use === 'stream')) return null;
    return ownedBy === 'owner' ? 'no-go' : 'neighbour-or-road';
  }
  if (!isKind(one, 'no-go')) return null;
  const { reason } = one.properties;
  if (reason === 'wetland' || reason === 'stream-buffer') return 'wetland';
  if (reason === 'utility') return 'utility';
  return reason === 'neighbour' ? 'neighbour-or-road' : 'no-go';
}

function paint(mask: Uint8Array, ground: GroundInUse, one: PlanFeature, code: number): void {
  const { geometry } = one;
  const { grid, frame } = ground;
  const rings =
    geometry.type === 'Polygon'
      ? geometry.coordinates.map((ring) => ring.map((at) => inFrame(frame, at)))
      : geometry.type === 'LineString'
        ? [band(geometry.coordinates.map((at) => inFrame(frame, at)))]
        : [];
  const isPlaced = (ring: (typeof rings)[number]) => ring?.every((at) => at !== null) === true;
  if (rings.length === 0 || !rings.every(isPlaced)) return;
  const spans = polygonMask(grid, rings as [number, number][][]);
  for (let i = 0; i < spans.count; i++) {
    const row = spans.row[i]! * grid.width;
    mask.fill(code, row + spans.start[i]!, row + spans.end[i]!);
  }
}

function band(line: readonly ([number, number] | null)[]): (readonly [number, number])[] | null {
  if (line.includes(null)) return null;
  return bandAround(line as [number, number][], 2 * LINE_MARGIN);
}
