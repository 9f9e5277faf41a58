import { solidParts } from '../debris/berm-parts.ts';
import { sectionHeight } from '../debris/section-height.ts';
import { lineLengthMeters } from '../frame/geodesic.ts';
import { cutChannel, raiseRidge } from '../ground/earthworks.ts';
import { isKind, type PlanFeature } from '../plan/feature.ts';
import { lineLength, linePart } from '../plan/line-geometry.ts';
import type { Kind } from '../plan/kinds.ts';
import { sampleBilinear } from '../raster/sample.ts';
import type { Work } from '../work.ts';
import type { GroundInUse, Inputs, SiteDefinition } from './definition.ts';
import { fingerprint } from './fingerprint.ts';
import { inFrame } from './ground-inputs.ts';

/** The surface that rain falls on, and what of the plan it carries. */
export interface WaterGround extends GroundInUse {
  readonly carries: readonly PlanFeature[];
}

type XY = readonly [number, number];

const carriedKinds = ['berm', 'ditch', 'culvert', 'outlet'] as const satisfies readonly Kind[];

/**
 * The ground that the water answers stand on: as surveyed, or with what is drawn laid on it and
 * cut into it. While it is taken as surveyed, no berm that is moved makes anything stale.
 */
export const waterGround: SiteDefinition = {
  name: 'waterGround',
  per: 'site',
  shown: false,
  keep: 1,
  reads: ['raster:ground', 'setting:waterOn', ...carriedKinds.map((k) => `features:${k}` as const)],
  *compute(inputs): Work<WaterGround | null> {
    const ground = inputs.raster('ground');
    if (!ground) return null;
    if (inputs.settings.waterOn === 'as-surveyed') return { ...ground, carries: [] };
    const carries = carriedKinds
      .flatMap((kind) => inputs.features(kind))
      .toSorted((a, b) => (a.id < b.id ? -1 : 1));
    const data = ground.grid.data.slice();
    // Berms first: a ditch through one lets water through.
    for (const one of carries) if (isKind(one, 'berm')) layBerm(ground, data, one);
    yield { share: 0.5, doing: 'laying the plan on the ground' };
    for (const one of carries) cutInto(ground, data, one);
    return { ...ground, grid: { ...ground.grid, data }, carries };
  },
  seenAs(value) {
    const of = value as WaterGround | null;
    if (!of) return 'none';
    const { id, place } = of.record;
    return `${id}@${fingerprint(place)}+${of.carries.map(fingerprint).join(',')}`;
  },
};

export function waterGroundOf(inputs: Inputs): WaterGround | null {
  return inputs.answer('waterGround') as WaterGround | null;
}

/** A line's corners in frame metres; null where the frame has no place for one of them. */
function lineInFrame({ frame }: GroundInUse, { geometry }: PlanFeature): XY[] | null {
  if (geometry.type !== 'LineString') return null;
  const line = geometry.coordinates.map((position) => inFrame(frame, position));
  return line.includes(null) ? null : (line as XY[]);
}

function layBerm(ground: GroundInUse, data: Float32Array, berm: PlanFeature<'berm'>): void {
  const line = lineInFrame(ground, berm);
  const { section, baseWidthMeters, heightMeters, gaps } = berm.properties;
  if (!line || berm.geometry.type !== 'LineString' || !(baseWidthMeters > 0)) return;
  const length = lineLength(line);
  if (!(length > 0)) return;
  const groundLength = lineLengthMeters(berm.geometry.coordinates);
  const scale = length / groundLength;
  for (const [from, to] of solidParts(groundLength, gaps)) {
    raiseRidge(ground.grid, data, {
      line: linePart(line, from * scale, to * scale),
      halfWidth: (baseWidthMeters / 2) * scale,
      heightAt: (distance) =>
        sectionHeight(section, baseWidthMeters, heightMeters, distance / scale),
    });
  }
}

function cutInto(ground: GroundInUse, data: Float32Array, one: PlanFeature): void {
  const surface = { ...ground.grid, data };
  if (isKind(one, 'outlet') && one.geometry.type === 'Point') {
    const at = inFrame(ground.frame, one.geometry.coordinates);
    const cell = at && cellAt(ground, at);
    // Where there is no ground, water leaves.
    if (cell !== null) data[cell] = NaN;
    return;
  }
  const line = lineInFrame(ground, one);
  if (!line || !(lineLength(line) > 0)) return;
  if (isKind(one, 'culvert')) {
    const [start, end] = [line[0]!, line.at(-1)!].map((at) =>
      sampleBilinear(ground.grid, at[0], at[1]),
    );
    const length = lineLength(line);
    const bottomAt = (station: number) => start! + ((end! - start!) * station) / length;
    if (Number.isNaN(bottomAt(0))) return;
    // One cell wide at the least, or no cell would be cut through.
    const halfBottom = Math.max(ground.grid.cellWidth, ground.grid.cellHeight) * 0.71;
    cutChannel(surface, data, { line, halfBottom, sideRun: 0, bottomAt, reach: halfBottom });
  }
  if (isKind(one, 'ditch')) cutDitch(ground, data, one, line);
}

function cutDitch(
  ground: GroundInUse,
  data: Float32Array,
  { properties }: PlanFeature<'ditch'>,
  line: readonly XY[],
): void {
  const { depthMeters, bottomStartMeters, bottomEndMeters } = properties;
  const length = lineLength(line);
  let bottomAt: (station: number) => number;
  if (bottomStartMeters !== null && bottomEndMeters !== null) {
    const fall = bottomEndMeters - bottomStartMeters;
    bottomAt = (station) => bottomStartMeters + (fall * station) / length;
  } else if (depthMeters !== null && depthMeters > 0) {
    bottomAt = fallingBottom(ground, line, depthMeters);
  } else return;
  const halfBottom = Math.max(properties.bottomWidthMeters / 2, ground.grid.cellWidth * 0.71);
  const deepest = deepestCut(ground, line, bottomAt);
  const reach = halfBottom + properties.sideSlopeRun * Math.max(0, deepest);
  cutChannel({ ...ground.grid, data }, data, {
    ...{ line, halfBottom, reach, bottomAt },
    sideRun: properties.sideSlopeRun,
  });
}

/** So deep under the ground along the line, and nowhere higher than anywhere before. */
function fallingBottom(ground: GroundInUse, line: readonly XY[], depth: number) {
  const { stations, heights } = groundAlong(ground, line);
  let lowest = Infinity;
  const bottoms = heights.map((z) => (lowest = Math.min(lowest, Number.isNaN(z) ? Infinity : z - depth))); // prettier-ignore
  const step = stations[1]!;
  return (station: number) => bottoms[Math.min(bottoms.length - 1, Math.round(station / step))]!;
}

function deepestCut(ground: GroundInUse, line: readonly XY[], bottomAt: (s: number) => number) {
  const { stations, heights } = groundAlong(ground, line);
  return heights.reduce((most, z, i) => {
    const cut = z - bottomAt(stations[i]!);
    return cut > most ? cut : most;
  }, 0);
}

/** Ground under a line, a cell apart. */
function groundAlong({ grid }: GroundInUse, line: readonly XY[]) {
  const length = lineLength(line);
  const count = Math.max(2, Math.ceil(length / grid.cellWidth) + 1);
  const stations = Array.from({ length: count }, (_, i) => (length * i) / (count - 1));
  const heights: number[] = [];
  let station = 0;
  let piece = 1;
  for (const at of stations) {
    while (piece < line.length - 1 && station + run(line, piece) < at)
      station += run(line, piece++);
    const share = run(line, piece) === 0 ? 0 : Math.min(1, (at - station) / run(line, piece));
    const [a, b] = [line[piece - 1]!, line[piece]!];
    heights.push(sampleBilinear(grid, a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share));
  }
  return { stations, heights };
}

function run(line: readonly XY[], piece: number): number {
  const [a, b] = [line[piece - 1]!, line[piece]!];
  return Math.hypot(b[0] - a[0], b[1] - a[1]);
}

function cellAt({ grid }: GroundInUse, [x, y]: XY): number | null {
  const column = Math.floor((x - grid.west) / grid.cellWidth);
  const row = Math.floor((grid.north - y) / grid.cellHeight);
  const isOn = column >= 0 && row >= 0 && column < grid.width && row < grid.height;
  return isOn ? row * grid.width + column : null;
}
