import { bendLoss } from '../debris/berm-bends.ts';
import { sectionForVolume } from '../debris/berm-solve.ts';
import { bermVolume } from '../debris/berm-volume.ts';
import type { LowHigh } from '../debris/low-high.ts';
import { settledHeights } from '../debris/settlement.ts';
import {
  roundEndsVolume,
  sectionArea,
  sideRun,
  type WindrowSection,
} from '../debris/windrow-sections.ts';
import { zoneFrame } from '../frame/zone-frame.ts';
import { isKind, type PlanFeature } from '../plan/feature.ts';
import type { Answer } from './answers.ts';
import type { BermHolds } from './debris-answers.ts';
import type { DebrisPlan } from './debris-plan.ts';
import { bermParts, sectionOf } from './debris-sinks.ts';
import type { FeatureDefinition } from './definition.ts';
import type { Finding } from './finding.ts';
import { finding } from './ground-inputs.ts';
import { lineInFrame } from './plan-on-ground.ts';

/** A berm that lacks more of its share than that is too small, and one with so much to spare too large. */
const MUCH = 0.1;

/** Of a berm that says no height: 24 by 9 ft, as the kind begins. */
const USUAL_RUN = 4 / 3;
/** A hand's breadth over or under is no fault. */
const SLACK = 1.03;

/** What a berm holds, what it should hold, and the length or the section that would. */
export const bermHolds: FeatureDefinition = {
  name: 'bermHolds',
  per: 'berm',
  reads: ['answer:debrisPlan', 'setting:bermMaxHeightMeters'],
  compute(inputs, feature): { done: Answer<BermHolds> | null } {
    if (!isKind(feature, 'berm')) return { done: null };
    const section = sectionOf(feature);
    const parts = bermParts(feature);
    const hasSize = section.heightMeters > 0 && section.baseWidthMeters > 0;
    const bends = hasSize ? bendsOf(feature, section) : null;
    const plan = inputs.answer('debrisPlan') as DebrisPlan | null;
    const share = shareOf(feature, plan);
    const run = hasSize ? sideRun(section) : null;
    const maxHeightMeters = inputs.settings.bermMaxHeightMeters;
    const limits = { sideRun: run ?? USUAL_RUN, maxHeightMeters, maxWidthMeters: null };
    const fit = sectionForVolume(section.shape, parts, share.likely, limits);
    const holdsCubicMeters = bermVolume(section, parts);
    const value: BermHolds = {
      holdsCubicMeters,
      shareCubicMeters: share,
      neededLengthMeters: hasSize ? neededLength(feature, section, parts.length, share) : null,
      neededSection: fit.ok ? fit.value : null,
      sideRun: run,
      settledMeters: settledHeights(section.heightMeters),
    };
    return {
      done: {
        value,
        findings: [
          ...(bends ? [finding('caution', bends, [feature.id])] : []),
          ...(run === null ? [finding('caution', 'size-not-said', [feature.id])] : []),
          ...shapeFindings(feature, run, maxHeightMeters),
          ...findingsOf(feature, value, fit.ok ? null : fit.problem.code, plan),
        ],
        basis: {
          method: [
            'Its section along every part between gaps, each part with round ends.',
            'Its share is the debris whose shortest push ends here, when heaps are filled as drawn and berms hold anything.',
            'Length: what holds the share with the section and gaps as drawn. Section: the lowest that holds it on the line as drawn, its sides as steep as now.',
          ],
          source:
            'Closed forms of triangle, parabola, half ellipse and trapezoid, and their solids of revolution. Settling 20 to 40 % in three years, greatest height: common practice, no source.',
          inputs: {
            parts: parts.length,
            ...(run === null ? {} : { sideRun: run }),
            bermMaxHeightMeters: maxHeightMeters,
          },
          confidence: 'As good as the volume: two thirds of it to nearly twice before cutting.',
        },
      },
    };
  },
};

/** What is wrong with the line itself; null where nothing is. */
function bendsOf({ geometry }: PlanFeature, section: WindrowSection): string | null {
  if (geometry.type !== 'LineString') return null;
  const [lng, lat] = geometry.coordinates[0]!;
  const line = lineInFrame({ frame: zoneFrame(lng, lat) }, { geometry } as PlanFeature);
  const loss = line && bendLoss(line, section);
  return loss && !loss.ok ? loss.problem.code : null;
}

function shareOf(berm: PlanFeature<'berm'>, plan: DebrisPlan | null): LowHigh {
  const at = plan?.sinks.findIndex(({ feature }) => feature.id === berm.id) ?? -1;
  if (!plan || at < 0) return { low: 0, likely: 0, high: 0 };
  const likely = plan.wanted[at]!;
  const { looseCubicMeters: loose } = plan.volume;
  if (!(loose.likely > 0)) return { low: 0, likely, high: 0 };
  // What heaps take stays; more debris or less than likely is the berms'.
  return {
    low: (likely * loose.low) / loose.likely,
    likely,
    high: (likely * loose.high) / loose.likely,
  };
}

/** Every part ends round, so each gap costs its own width and what its two ends lack. */
function neededLength(
  { properties }: PlanFeature<'berm'>,
  section: WindrowSection,
  parts: number,
  share: LowHigh,
): LowHigh | null {
  const ends = parts * roundEndsVolume(section);
  if (share.low < ends) return null;
  const open = properties.gaps.reduce((sum, { widthMeters }) => sum + widthMeters, 0);
  const length = (cubicMeters: number) =>
    (cubicMeters - ends) / sectionArea(section) + parts * section.baseWidthMeters + open;
  return { low: length(share.low), likely: length(share.likely), high: length(share.high) };
}

/**
 * What is higher than is pushed, or steeper than debris lies: 1 to 1 at most, common practice, no source.
 * @param run metres out for a metre up; null where it has no height
 */
export function shapeFindings(
  { id, properties }: PlanFeature<'berm' | 'heap'>,
  run: number | null,
  mostMeters: number,
): Finding[] {
  const findings: Finding[] = [];
  const heightMeters = properties.heightMeters ?? 0;
  if (heightMeters > mostMeters * SLACK) {
    findings.push(finding('caution', 'higher-than-pushed', [id], { heightMeters, mostMeters }));
  }
  if (run !== null && run * SLACK < 1) {
    findings.push(finding('caution', 'sides-too-steep', [id], { run, widthMeters: 2 * heightMeters })); // prettier-ignore
  }
  return findings;
}

function findingsOf(
  { id }: PlanFeature,
  value: BermHolds,
  problem: string | null,
  plan: DebrisPlan | null,
): Finding[] {
  const { holdsCubicMeters, shareCubicMeters, neededLengthMeters, neededSection } = value;
  const share = shareCubicMeters.likely;
  if (problem) return [finding('caution', problem, [id])];
  if (!(share > 0)) return plan ? [finding('note', 'berm-out-of-reach', [id])] : [];
  const cure = neededSection?.cure;
  if (neededSection && neededSection.leftOverCubicMeters > 0) {
    return [
      finding('caution', 'berm-leaves-over', [id], {
        cubicMeters: neededSection.leftOverCubicMeters,
        heightMeters: neededSection.section.heightMeters,
        longerMeters: cure?.longerMeters ?? null,
        widerMeters: cure?.widerSection?.baseWidthMeters ?? null,
      }),
    ];
  }
  const values = {
    holdsCubicMeters,
    shareCubicMeters: share,
    lengthMeters: neededLengthMeters?.likely ?? null,
    heightMeters: neededSection?.section.heightMeters ?? null,
  };
  if (holdsCubicMeters < share * (1 - MUCH)) return [finding('caution', 'berm-too-small', [id], values)]; // prettier-ignore
  if (holdsCubicMeters > share * (1 + MUCH)) return [finding('note', 'berm-not-filled', [id], values)]; // prettier-ignore
  return [];
}
