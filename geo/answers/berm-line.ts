import { lineLengthMeters } from '../frame/geodesic.ts';
import { sampleBilinear } from '../raster/sample.ts';
import type { Answer, BermLine } from './answers.ts';
import type { FeatureDefinition, GroundInUse } from './definition.ts';
import type { Finding } from './finding.ts';
import { finding, inFrame, surveyConfidence } from './ground-inputs.ts';
import type { PlanFeature, Position } from '../plan/feature.ts';

/** Length of a berm's line on the ellipsoid, and the lowest and highest ground under it. */
export const bermLine: FeatureDefinition = {
  name: 'bermLine',
  per: 'berm',
  reads: ['raster:ground', 'record:ground'],
  compute(inputs, feature): { done: Answer<BermLine> } {
    const ground = inputs.raster('ground');
    const line = lineOf(feature);
    const along = ground ? heightsAlong(line, ground) : null;
    const hasHeights = along !== null && along.read > 0;
    return {
      done: {
        value: {
          lengthMeters: lineLengthMeters(line),
          lowestMeters: hasHeights ? along.lowest : null,
          highestMeters: hasHeights ? along.highest : null,
        },
        findings: along ? coverFindings(feature, along) : [],
        basis: {
          method: [
            'Adds up the pieces of the line, each measured on the earth’s ellipsoid.',
            'Reads the ground once per cell along the line.',
          ],
          source: 'Karney 2013, Algorithms for geodesics, J. Geodesy 87:43–55.',
          inputs: { corners: line.length, heightsRead: along?.read ?? 0 },
          confidence: surveyConfidence(ground),
        },
      },
    };
  },
};

function lineOf(feature: PlanFeature): readonly Position[] {
  if (feature.geometry.type !== 'LineString') {
    throw new RangeError(`${feature.id} is a ${feature.geometry.type}, not a line`);
  }
  return feature.geometry.coordinates;
}

interface Along {
  /** Steps of the whole line, and those of them with a height. */
  readonly steps: number;
  readonly read: number;
  readonly lowest: number;
  readonly highest: number;
}

function coverFindings(feature: PlanFeature, { steps, read }: Along): Finding[] {
  if (read === 0) return [finding('caution', 'off-ground', [feature.id])];
  if (read === steps) return [];
  const coveredShare = read / steps;
  return [finding('caution', 'partly-off-ground', [feature.id], { coveredShare })];
}

/** Heights at steps of at most a cell along the line; corners without a place have none. */
function heightsAlong(line: readonly Position[], { grid, frame }: GroundInUse): Along {
  const step = Math.min(grid.cellWidth, grid.cellHeight);
  let steps = 0;
  let read = 0;
  let lowest = Infinity;
  let highest = -Infinity;
  const take = (x: number, y: number) => {
    const z = sampleBilinear(grid, x, y);
    if (!Number.isFinite(z)) return;
    read++;
    lowest = Math.min(lowest, z);
    highest = Math.max(highest, z);
  };
  let from: [number, number] | null = null;
  for (const [i, position] of line.entries()) {
    const to = inFrame(frame, position);
    if (i === 0 && to) take(to[0], to[1]);
    steps += i === 0 || !from || !to ? 1 : 0;
    if (from && to) {
      const count = Math.max(1, Math.ceil(Math.hypot(to[0] - from[0], to[1] - from[1]) / step));
      steps += count;
      // A corner dragged to another state must not cost a million look-ups beside the ground.
      const [enter, leave] = shareOnGrid(from, to, grid);
      for (let n = Math.max(1, Math.floor(enter * count)); n <= Math.ceil(leave * count); n++) {
        const t = n / count;
        take(from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1]));
      }
    }
    from = to;
  }
  return { steps, read, lowest, highest };
}

/** Where a straight piece enters and leaves the grid, 0 to 1 of its length; 1, 0 where it misses. */
function shareOnGrid(
  from: readonly [number, number],
  to: readonly [number, number],
  grid: GroundInUse['grid'],
): [number, number] {
  let enter = 0;
  let leave = 1;
  const clip = (start: number, change: number, low: number, high: number) => {
    if (change === 0) {
      if (start < low || start > high) leave = -1;
      return;
    }
    const a = (low - start) / change;
    const b = (high - start) / change;
    enter = Math.max(enter, Math.min(a, b));
    leave = Math.min(leave, Math.max(a, b));
  };
  clip(from[0], to[0] - from[0], grid.west, grid.west + grid.width * grid.cellWidth);
  clip(from[1], to[1] - from[1], grid.north - grid.height * grid.cellHeight, grid.north);
  return leave < enter ? [1, 0] : [enter, leave];
}
