import { sampleBilinear } from '../raster/sample.ts';
import type { Answer, StandGround } from './answers.ts';
import type { FeatureDefinition } from './definition.ts';
import { finding, inFrame, surveyConfidence } from './ground-inputs.ts';

/** Height of the ground under a stand. */
export const standGround: FeatureDefinition = {
  name: 'standGround',
  per: 'stand',
  reads: ['raster:ground', 'record:ground'],
  compute(inputs, feature): { done: Answer<StandGround> } {
    if (feature.geometry.type !== 'Point') {
      throw new RangeError(`${feature.id} is a ${feature.geometry.type}, not a point`);
    }
    const ground = inputs.raster('ground');
    const [longitude, latitude] = feature.geometry.coordinates;
    const at = ground && inFrame(ground.frame, [longitude, latitude]);
    const height = at ? sampleBilinear(ground.grid, at[0], at[1]) : NaN;
    const elevationMeters = Number.isFinite(height) ? height : null;
    return {
      done: {
        value: { elevationMeters, longitude, latitude },
        findings:
          ground && elevationMeters === null
            ? [finding('caution', 'off-ground', [feature.id])]
            : [],
        basis: {
          method: ['Takes the height between the four nearest cells of the ground.'],
          source: 'Bilinear interpolation; no source needed.',
          inputs: { longitude, latitude },
          confidence: surveyConfidence(ground),
        },
      },
    };
  },
};
