import type { Answer, Plantable } from './answers.ts';
import type { FeatureDefinition } from './definition.ts';
import { finding, surveyConfidence } from './ground-inputs.ts';
import { leastTakingSquareMeters, plantableGround } from './plantable-ground.ts';
import { takingKinds, takingSettings } from './takings.ts';

/** What is left of a plot to plant this fall and next, and what was taken off. */
export const plantable: FeatureDefinition = {
  name: 'plantable',
  per: 'plot',
  reads: [
    ...takingKinds.map((kind) => `features:${kind}` as const),
    ...takingSettings.map((key) => `setting:${key}` as const),
    'raster:ground',
    'record:ground',
    'setting:takeOffTooSteep',
    'setting:tooSteepSlope',
  ],
  compute(inputs, feature): { done: Answer<Plantable> | null } {
    const ground = inputs.raster('ground');
    const { settings } = inputs;
    const features = inputs.features.bind(inputs);
    const found = plantableGround({ plot: feature, features, settings, ground });
    if (!found) return { done: null };
    const { thingsNear, ...value } = found;
    const doubtful = value.unknownSizeIds;
    return {
      done: {
        value,
        findings: [
          ...(value.plantableSquareMeters < leastTakingSquareMeters
            ? [finding('caution', 'nothing-plantable', [feature.id])]
            : []),
          ...(doubtful.length > 0
            ? [
                finding('note', 'taking-without-size', [feature.id, ...doubtful], {
                  count: doubtful.length,
                }),
              ]
            : []),
        ],
        basis: {
          method: [
            'Takes no-go ground, structures drawn as areas, berms and heaps off the plot, in that order; ground under two of them is taken off once.',
            'A berm takes its base width along its line, open at its gaps, and only what lies inside the plot; a heap takes its outline, or the one that its numbers make. Both take a strip round them to work and turn in.',
            'Next fall what is to burn has burned, and what the fire leaves is one round heap in its middle.',
            settings.takeOffTooSteep
              ? 'Of what is left, takes off the cells steeper than the setting; a cell on an edge counts by the share that lies inside.'
              : 'Steep ground is left in: the setting is off.',
            'The list and what is left add up to the plot’s area on the ellipsoid.',
          ],
          source:
            'Snap rounding, Hobby 1999, Computational Geometry 13:199–214 (areas); ordinary least squares (slope). Planting under 10 % slope: trade practice. Strip and share that burns: common practice, no source.',
          inputs: {
            tooSteepSlope: settings.takeOffTooSteep ? settings.tooSteepSlope : null,
            workingStripMeters: settings.workingStripMeters,
            burnConsumedShare: settings.burnConsumedShare,
            thingsNear,
          },
          confidence: surveyConfidence(ground),
        },
      },
    };
  },
};
