import type { Frame } from '../frame/crs-types.ts';
import { traceFlowLines, type FlowLine } from '../water/flow-line-trace.ts';
import type { FlowCatchments } from '../water/flow-lines.ts';
import type { Work } from '../work.ts';
import type { Answer } from './answers.ts';
import type { FlowLines, FlowLineShape } from './flow-answers.ts';
import type { SiteDefinition } from './definition.ts';
import { surveyConfidence } from './ground-inputs.ts';
import type { LowSpotSurface } from './low-spot-surface.ts';
import { waterGroundOf } from './water-ground.ts';

/** Lines of the frame as longitude and latitude. */
export function flowLineShapes(frame: Frame, traced: readonly FlowLine[]): FlowLineShape[] {
  return traced.map(({ points, catchmentSquareMeters, into }) => {
    const line = points.map(([x, y]): [number, number] => {
      const [lng, lat] = frame.toLngLat(x, y);
      return [Math.round(lng * 1e9) / 1e9, Math.round(lat * 1e9) / 1e9];
    });
    return { line, catchmentSquareMeters, into };
  });
}

/** Where water runs together on its way down, and how much ground drains through there. */
export const flowLines: SiteDefinition = {
  name: 'flowLines',
  per: 'site',
  keep: 2,
  reads: [
    'answer:waterGround',
    'answer:lowSpotSurface',
    'answer:siteFlow',
    'setting:flowCatchmentSquareMeters',
    'record:ground',
  ],
  *compute(inputs): Work<Answer<FlowLines> | null> {
    const ground = waterGroundOf(inputs);
    const surface = inputs.answer('lowSpotSurface') as LowSpotSurface | null;
    const flow = inputs.answer('siteFlow') as FlowCatchments | null;
    if (!ground || !surface || !flow) return null;
    const thresholdSquareMeters = inputs.settings.flowCatchmentSquareMeters;
    const traced = yield* traceFlowLines(ground.grid, surface.filled, flow, {
      thresholdSquareMeters,
    });
    const lines = flowLineShapes(ground.frame, traced);
    return {
      value: { lines, thresholdSquareMeters },
      findings: [],
      basis: {
        method: [
          'Water goes down the steepest of eight triangles round each cell, shared between the two cells at its corners; over flats and through full low spots the shortest way.',
          'A line is drawn where so much ground drains through one place, and more than through the places beside it.',
        ],
        source: 'Tarboton 1997, Water Resources Research 33:309–319 (D-infinity).',
        inputs: { thresholdSquareMeters, lines: lines.length },
        confidence: surveyConfidence(ground),
      },
    };
  },
};
