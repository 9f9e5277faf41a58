import { howSure } from '../water/how-sure.ts';
import { surveyNoise } from '../water/survey-noise.ts';
import { partOf, type Work } from '../work.ts';
import type { Answer, SpotsSure } from './answers.ts';
import type { SiteDefinition } from './definition.ts';
import { finding, surveyConfidence } from './ground-inputs.ts';
import type { ListedLowSpots } from './listed-low-spots.ts';
import type { LowSpotSurface } from './low-spot-surface.ts';
import { surveyQuality } from './survey-quality.ts';
import { waterGroundOf } from './water-ground.ts';

/** Doubt is worked out for the largest of the list. */
const MOST_SPOTS = 12;
const RUNS = 20;
const SEED = 1;
/** Looking at the survey's noise takes about so much of it. */
const NOISE_SHARE = 0.05;
/** Seen in fewer of the trials than this, a low spot is walked before it is believed. */
const DOUBTFUL = 0.8;

/** In how many of the surveys that could have been made each low spot is there. */
export const spotsSure: SiteDefinition = {
  name: 'spotsSure',
  per: 'site',
  reads: ['answer:waterGround', 'answer:lowSpotSurface', 'answer:listedLowSpots', 'record:ground'],
  *compute(inputs): Work<Answer<SpotsSure> | null> {
    const ground = waterGroundOf(inputs);
    const surface = inputs.answer('lowSpotSurface') as LowSpotSurface | null;
    const list = inputs.answer('listedLowSpots') as ListedLowSpots | null;
    if (!ground || !surface || !list) return null;
    const { verticalErrorMeters } = surveyQuality(ground.record);
    const noise = yield* partOf(surveyNoise(ground.grid, verticalErrorMeters), 0, NOISE_SHARE);
    const asked = list.spots.slice(0, MOST_SPOTS);
    const sought = howSure(
      ground.grid,
      surface,
      asked.map(({ label }) => label),
      noise,
      {
        minDepthMeters: list.minDepthMeters,
        minAreaSquareMeters: list.minAreaSquareMeters,
        runs: RUNS,
        seed: SEED,
      },
    );
    const { shares, runs } = yield* partOf(sought, NOISE_SHARE, 1);
    const doubtful = asked.filter((_, i) => shares[i]! < DOUBTFUL).map(({ id }) => id);
    return {
      value: {
        shares: Object.fromEntries(asked.map(({ id }, i) => [id, shares[i]!])),
        runs,
        shortErrorMeters: noise.shortMeters,
        shortRangeMeters: noise.shortRangeMeters,
        longErrorMeters: noise.longMeters,
        longRangeMeters: noise.longRangeMeters,
      },
      findings:
        doubtful.length > 0
          ? [finding('note', 'spots-doubtful', [], { spots: doubtful.join(', ') })]
          : [],
      basis: {
        method: [
          'Adds to the ground an error such as this survey may have, and fills it anew, so many times.',
          'The short-range part of the error is what strays from a smooth surface within squares of 32 cells; the rest of the stated error is long-range and moves whole slopes.',
          'Counts how often each low spot is still as deep and large as the list asks.',
        ],
        source: 'After Lindsay & Creed 2006, Hydrological Processes 20:1503–1514.',
        inputs: {
          runs,
          seed: SEED,
          shortErrorMeters: noise.shortMeters,
          shortRangeMeters: noise.shortRangeMeters,
          longErrorMeters: noise.longMeters,
          longRangeMeters: noise.longRangeMeters,
        },
        confidence: surveyConfidence(ground),
      },
    };
  },
};
