import { lineLengthMeters } from '../frame/geodesic.ts';
import { sampleBilinear } from '../raster/sample.ts';
import type { Answer, BermLine } from './answers.ts';
import type { FeatureDefinition, GroundInUse } from './definition.ts';
import { finding, surveyConfidence } from './ground-inputs.ts';
import type { PlanFeature, Position } from '../plan/feature.ts';

/** Length of a berm's line on the ellipsoid, and the lowest and highest ground under it. */
export const bermLine: FeatureDefinition = {
  name: 'bermLine',
  per: 'berm',
  reads: ['raster:ground', 'record:ground'],
  compute(inputs, feature): { done: Answer<BermLine> } {
    const ground = inputs.raster('ground');
    const line = lineOf(feature);
    const heights = ground ? heightsAlong(line, ground) : [];
    return {
      done: {
        value: {
          lengthMeters: lineLengthMeters(line),
          lowestMeters: heights.length > 0 ? Math.min(...heights) : null,
          highestMeters: heights.length > 0 ? Math.max(...heights) : null,
        },
        findings:
          ground && heights.length === 0 ? [finding('caution', 'off-ground', [feature.id])] : [],
        basis: {
          method: [
            'Adds up the geodesics between the corners of the line.',
            'Reads the ground once per cell along it.',
          ],
          source: 'Karney 2013, Algorithms for geodesics, J. Geodesy 87:43–55.',
          inputs: { corners: line.length, heightsRead: heights.length },
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

/** Heights at steps of a cell along the line, where there are any. */
function heightsAlong(line: readonly Position[], ground: GroundInUse): number[] {
  const { grid, frame } = ground;
  const step = Math.min(grid.cellWidth, grid.cellHeight);
  const heights: number[] = [];
  const read = (x: number, y: number) => {
    const z = sampleBilinear(grid, x, y);
    if (Number.isFinite(z)) heights.push(z);
  };
  let from = frame.fromLngLat(line[0]![0], line[0]![1]);
  read(from[0], from[1]);
  for (const [lng, lat] of line.slice(1)) {
    const to = frame.fromLngLat(lng, lat);
    const steps = Math.max(1, Math.ceil(Math.hypot(to[0] - from[0], to[1] - from[1]) / step));
    for (let i = 1; i <= steps; i++) {
      const t = i / steps;
      read(from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1]));
    }
    from = to;
  }
  return heights;
}
