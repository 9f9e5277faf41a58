import type { DebrisArea } from '../debris/debris-patches.ts';
import type { LowHigh } from '../debris/low-high.ts';
import { clearingHours, usualSwell, type ClearingHours } from '../estimate/clearing-hours.ts';
import { stumpMap } from '../estimate/stump-map.ts';
import type { Settings } from '../plan/settings.ts';
import type { PlanFeature } from '../plan/feature.ts';
import type { Result } from '../result.ts';
import type { Answer } from './answers.ts';
import type { ClearingWork, PushSummary } from './debris-answers.ts';
import type { DebrisBlocks, TalliedBlock } from './debris-blocks.ts';
import type { DebrisPlan } from './debris-plan.ts';
import type { SiteDefinition } from './definition.ts';
import type { Finding } from './finding.ts';
import { finding, ringsInFrame } from './ground-inputs.ts';
import { dozerOf, nextYearOf } from './next-year.ts';
import { pushedTo, type Pushed } from './push-of.ts';

/** Settings that machine hours hang on. */
export const machineSettings = [
  'dozerBladeLoadCubicMeters',
  'dozerBladeWidthMeters',
  'dozerOperator',
  'dozerPowerWatts',
  'dozerHourlyRate',
  'loggedClearing',
] as const;

/** Hours by tree count for so much of each block; the problem of the first that cannot be said. */
export function hoursOf(
  parts: readonly { readonly block: TalliedBlock; readonly areaSquareMeters: number }[],
  { dozerPowerWatts: powerWatts, loggedClearing }: Settings,
): Result<ClearingHours> {
  const blocks = parts.map(({ block: { block }, areaSquareMeters }) => {
    const { tally: rows, stumps } = block.properties;
    const grubbed = (stumps ?? 'pulled') === 'pulled';
    return { rows, areaSquareMeters, grubbed, entangled: false };
  });
  const errors = parts.map(({ block }) => block.block.properties.countErrorShare);
  const countErrorShare = Math.max(0, ...errors);
  return clearingHours(blocks, { powerWatts, swell: usualSwell, countErrorShare }, loggedClearing);
}

/** Machine hours of the clearing as drawn: fell, grub, pile, and push to what is drawn for it. */
export const clearingWork: SiteDefinition = {
  name: 'clearingWork',
  per: 'site',
  keep: 2,
  reads: [
    'answer:debrisPlan',
    'raster:ground',
    'setting:pushReachMeters',
    'setting:burnConsumedShare',
    'setting:bermMaxHeightMeters',
    ...machineSettings.map((key) => `setting:${key}` as const),
  ],
  compute(inputs): { done: Answer<ClearingWork | null> | null } {
    const plan = inputs.answer('debrisPlan') as DebrisPlan | null;
    if (!plan || plan.blocks.length === 0) return { done: null };
    const { settings } = inputs;
    const parts = plan.blocks.map((block) => ({ block, areaSquareMeters: block.areaSquareMeters }));
    const hours = hoursOf(parts, settings);
    const ground = inputs.raster('ground');
    const frame = ground?.frame ?? plan.frame;
    const loose = plan.volume.looseCubicMeters;
    const share = { low: loose.low / loose.likely, likely: 1, high: loose.high / loose.likely };
    const features = plan.sinks.map(({ feature }) => feature);
    const areas = plan.blocks.flatMap((block) => areaOf(block, frame));
    const pushed = pushedTo(areas, features, frame, ground, settings, share);
    const value = hours.ok
      ? {
          ...workOf(hours.value, pushed, features, frame, settings),
          stumps: stumpsOf(plan, settings),
          nextYear: nextYearOf(features, settings),
        }
      : null;
    return {
      done: {
        value,
        findings: hours.ok
          ? findingsOf(hours.value, pushed)
          : [finding('note', hours.problem.code, [])],
        basis: {
          method: [
            'Counts the trees of each block by their thickness at the ground, and takes the table’s minutes for felling and for piling, a quarter more where stumps come out.',
            'Pushes the debris of each patch of ground to the nearest part of a berm or heap with room left, none farther than debris is set to be pushed, all together at the least volume times distance; what that takes beyond 100 ft is added.',
            'What you have logged comes before the table.',
          ],
          source:
            'Tree count: maker’s performance handbook and Peurifoy et al., Construction Planning, Equipment, and Methods. Pushing: US Army FM 5-434 (2000) ch. 2. Debris drifts badly, and is as light as it is: ours.',
          inputs: {
            powerKilowatts: settings.dozerPowerWatts / 1000,
            bladeLoadCubicMeters: settings.dozerBladeLoadCubicMeters,
            pushReachMeters: settings.pushReachMeters,
            operator: settings.dozerOperator,
            hourlyRate: settings.dozerHourlyRate,
            logged: settings.loggedClearing.length,
          },
          confidence:
            'Within a factor of two for a machine that the table does not have; log the first day and it is your own.',
        },
      },
    };
  },
};

function areaOf({ block, volume }: TalliedBlock, frame: DebrisBlocks['frame']): DebrisArea[] {
  const rings = ringsInFrame(block, frame);
  return rings ? [{ rings, cubicMeters: volume.looseCubicMeters.likely }] : [];
}

function workOf(
  { hours, basis, steps, offTable, doubts }: ClearingHours,
  pushed: Pushed | null,
  features: readonly PlanFeature<'berm' | 'heap'>[],
  frame: DebrisBlocks['frame'],
  { dozerHourlyRate }: Settings,
): Omit<ClearingWork, 'stumps' | 'nextYear'> {
  const push = pushed?.hours.beyondPiling ?? { low: 0, likely: 0, high: 0 };
  const whole = {
    low: hours.low + push.low,
    likely: hours.likely + push.likely,
    high: hours.high + push.high,
  };
  return {
    hours: whole,
    basis,
    steps: { ...steps, pushing: push.likely },
    offTable,
    doubts,
    cost: costOf(whole, dozerHourlyRate),
    push: pushed && features.length > 0 ? summaryOf(pushed, frame) : null,
  };
}

/** Stumps by class, the holes they leave, and what filling and blading them takes. */
function stumpsOf({ blocks }: DebrisPlan, settings: Settings): ClearingWork['stumps'] {
  const made = stumpMap(
    blocks.map(({ block: { properties }, areaSquareMeters }) => {
      return { rows: properties.tally, areaSquareMeters, stumps: properties.stumps ?? 'pulled' };
    }),
    dozerOf(settings),
  );
  return made.ok ? made.value : null;
}

export function costOf(hours: LowHigh, rate: number | null): LowHigh | null {
  if (rate === null) return null;
  return { low: hours.low * rate, likely: hours.likely * rate, high: hours.high * rate };
}

function summaryOf({ plan, hours }: Pushed, frame: DebrisBlocks['frame']): PushSummary {
  return {
    meanMeters: plan.meanMeters,
    greatestMeters: plan.greatestMeters,
    uphillShare: plan.uphillShare,
    placedCubicMeters: plan.placedCubicMeters,
    leftOverCubicMeters: plan.leftOverCubicMeters,
    farShare: hours.farShare,
    arrows: plan.arrows.map(({ from, to, cubicMeters }) => ({
      from: frame.toLngLat(from[0], from[1]),
      to: frame.toLngLat(to[0], to[1]),
      cubicMeters,
    })),
  };
}

/** A share of the debris pushed up hill that is worth a word. */
const MUCH_UPHILL = 0.5;

function findingsOf({ offTable }: ClearingHours, pushed: Pushed | null): Finding[] {
  const findings = offTable.map((off) =>
    finding('note', off.code, [], {
      watts: 'leastWatts' in off ? off.leastWatts : 'mostWatts' in off ? off.mostWatts : null,
      stems: 'stems' in off ? off.stems : null,
    }),
  );
  const { meanMeters, uphillShare } = pushed?.plan ?? {};
  if (meanMeters && uphillShare && uphillShare > MUCH_UPHILL) {
    findings.push(finding('note', 'pushes-uphill', [], { share: uphillShare, meanMeters }));
  }
  return findings;
}
