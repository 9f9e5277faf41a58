import type { GapPlan } from '../debris/gap-stations.ts';
import { isKind, type PlanFeature } from '../plan/feature.ts';
import { placeAt } from '../plan/line-geometry.ts';
import type { Result } from '../result.ts';
import type { Work } from '../work.ts';
import type { Answer } from './answers.ts';
import type { BermGaps } from './debris-answers.ts';
import { bermSight } from './berm-sight.ts';
import type { FeatureDefinition } from './definition.ts';
import type { Finding } from './finding.ts';
import { gapReads, gapsWanted, type GapsWanted } from './gaps-wanted.ts';
import { finding } from './ground-inputs.ts';
import { carriedOf } from './water-ground.ts';

/** The fewest gaps that a berm needs: for water, corridors, lanes, seats and wildlife together. */
export const bermGaps: FeatureDefinition = {
  name: 'bermGaps',
  per: 'berm',
  reads: [...gapReads, 'features:berm', 'features:heap', 'features:plot', 'answer:gapWind'],
  *compute(inputs, feature): Work<Answer<BermGaps> | null> {
    if (!isKind(feature, 'berm')) return null;
    const wanted = yield* gapsWanted(inputs, feature, {
      others: carriedOf(inputs).filter(({ id }) => id !== feature.id),
      windFromDegrees: inputs.answer('gapWind') as number | null,
      cubicMeters: null,
    });
    if (!wanted) return null;
    const { plan, along, widthMeters, spacingMeters, leastPartMeters, mustBe } = wanted;
    const made = plan.ok ? valueOf(plan.value, wanted) : null;
    const value = made && { ...made, seats: bermSight(inputs, feature, made) };
    const { lengthMeters } = along;
    return {
      value: value ?? { gaps: [], lengthMeters, section: null, leftOverCubicMeters: 0, seats: [] },
      findings: findingsOf(feature, plan),
      basis: {
        method: [
          'A gap where it lies across a ditch or notch, where each flow line comes that the berm would turn aside without gaps, and where one lets through what it would dam, found by trying on the ground.',
          'A gap where a lane or travel corridor crosses, and by each seat within 15 to 30 yd, as square to the wind as the line lets it be; none that a seat within 100 yd looks straight through.',
          'Then the fewest more, as even as can be, that leave no part longer than the spacing; one that reaches another becomes one with it.',
          'What the gaps take is put back: the berm gets as high as holds what it holds as drawn, its sides as they are, and no part is shorter than it is then wide.',
        ],
        source:
          'Gap 12 to 20 ft, spacing, 15 to 30 yd off the seat and crosswind: common practice, no source. One that burns: 60 m at most, 8 m gap, Alberta county fire service.',
        inputs: {
          gapWidthMeters: widthMeters,
          gapSpacingMeters: spacingMeters,
          leastPartMeters,
          mustBe,
        },
        confidence:
          'Where water comes is as good as the survey; walk the line after a rain before you leave a gap out.',
      },
    };
  },
};

function valueOf({ gaps }: GapPlan, { along, fit }: GapsWanted): Omit<BermGaps, 'seats'> {
  const { frame, line, lengthMeters, scale } = along;
  return {
    gaps: gaps.map((gap) => {
      const { at } = placeAt(line, gap.stationMeters * scale);
      return { ...gap, at: frame.toLngLat(at[0], at[1]) };
    }),
    lengthMeters,
    ...fit,
  };
}

function findingsOf({ id, properties }: PlanFeature<'berm'>, plan: Result<GapPlan>): Finding[] {
  if (!plan.ok) return [finding('caution', plan.problem.code, [id])];
  const findings: Finding[] = [];
  const barred = plan.value.gaps.filter(({ isBarred }) => isBarred);
  if (barred.length > 0) {
    const stations = { stationMeters: barred[0]!.stationMeters, count: barred.length };
    findings.push(finding('caution', 'gap-faces-seat', [id], stations));
  }
  const missing = plan.value.gaps.filter(
    (gap) => !properties.gaps.some((one) => Math.abs(one.stationMeters - gap.stationMeters) < one.widthMeters), // prettier-ignore
  );
  if (missing.length > 0) {
    findings.push(finding('note', 'gaps-wanted', [id], { count: missing.length }));
  }
  return findings;
}
