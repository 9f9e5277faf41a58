import { isKind, type PlanFeature } from '../plan/feature.ts';
import { partOf, type Work } from '../work.ts';
import type { Answer } from './answers.ts';
import type { LettingGap, LettingGaps } from './dam-answers.ts';
import { basisInputs, dammingReads, heldBack, type HeldBack } from './damming.ts';
import type { FeatureDefinition, Inputs } from './definition.ts';
import { surveyConfidence } from './ground-inputs.ts';
import { gapsThatLetThrough, volumeOf } from './letting-gaps.ts';

/** What the berm holds back is found in about this share of the time that gaps are tried. */
const HELD_SHARE = 0.1;
/** Shares of the time at which a look ends whether the berm with its new gaps asks for more. */
const ROUNDS = [0.7, 0.85, 0.95, 1] as const;

/** Where gaps would let through what a berm dams and turns aside: found by trying. */
export const lettingGaps: FeatureDefinition = {
  name: 'lettingGaps',
  per: 'berm',
  reads: [...dammingReads, 'answer:afterStorm'],
  *compute(inputs, feature): Work<Answer<LettingGaps> | null> {
    if (!isKind(feature, 'berm')) return null;
    const held = yield* partOf(heldBack(inputs, feature), 0, HELD_SHARE);
    if (!held?.line) return null;
    const value = yield* partOf(gapsToAdd(inputs, feature, held), HELD_SHARE, 1);
    return {
      value,
      findings: [],
      basis: {
        method: [
          'Sets a gap where the berm lies across a ditch or notch, and where each flow line comes that it turns aside, if none is near.',
          'Then tries a dozen places along the largest pond that is left, fills the ground again for each and takes the one that lets most through, until a tenth of what it would dam without gaps is left.',
          'Looks again at the berm with those gaps, until it asks for no more.',
        ],
        source: 'A gap wherever water crosses, 12 to 20 ft wide: common practice, no source.',
        inputs: basisInputs(inputs, held),
        confidence: surveyConfidence(held.ground),
      },
    };
  },
};

/** Gaps to be added to a berm as it is drawn; once they are in it, none are asked for. */
function* gapsToAdd(
  inputs: Inputs,
  feature: PlanFeature<'berm'>,
  asDrawn: HeldBack,
): Work<LettingGaps> {
  const isWhole = feature.properties.gaps.length === 0;
  const whole = isWhole ? asDrawn : yield* heldBack(inputs, withGaps(feature, []));
  const dammedCubicMeters = whole ? volumeOf(whole.around.ponds.filter(whole.counts)) : 0;
  const { gapWidthMeters } = inputs.settings;
  const gaps: LettingGap[] = [];
  let value: LettingGaps | null = null;
  let begun = 0;
  for (const end of ROUNDS) {
    const berm = withGaps(feature, [...feature.properties.gaps, ...gaps]);
    const held: HeldBack | null = begun === 0 ? asDrawn : yield* heldBack(inputs, berm);
    if (!held?.line) break;
    const { line, others, counts, crossed, around } = held;
    const own = { berm, line, gapWidthMeters, had: [], dammedCubicMeters };
    const order = { ...own, others, counts, turned: held.turned ?? [], crossed };
    const letting: LettingGaps = yield* partOf(gapsThatLetThrough(around, order), begun, end);
    value = letting;
    begun = end;
    if (letting.gaps.length === 0) break;
    gaps.push(...letting.gaps);
  }
  const left = { leftAreaSquareMeters: 0, leftVolumeCubicMeters: 0, leftMaxDepthMeters: 0 };
  return {
    ...(value ?? { ...left, isThrough: true }),
    gaps: gaps.toSorted((a, b) => a.stationMeters - b.stationMeters),
  };
}

function withGaps(
  berm: PlanFeature<'berm'>,
  gaps: PlanFeature<'berm'>['properties']['gaps'],
): PlanFeature<'berm'> {
  const own = gaps.map(({ stationMeters, widthMeters }) => ({ stationMeters, widthMeters }));
  return { ...berm, properties: { ...berm.properties, gaps: own } };
}
