import { debrisPatches, type DebrisArea } from '../debris/debris-patches.ts';
import { drawnVolume } from '../debris/burn-remnant.ts';
import { bermFootprint, heapFootprint } from '../debris/footprint.ts';
import type { LowHigh } from '../debris/low-high.ts';
import { usualPushing } from '../debris/push-plan.ts';
import type { ClearingHours } from '../estimate/clearing-hours.ts';
import { zoneFrame } from '../frame/zone-frame.ts';
import { frameMetersPerGroundMeter, planeArea } from '../plan/construct/plan-plane.ts';
import { isKind, type PlanFeature } from '../plan/feature.ts';
import { findOutlineFault } from '../plan/outline-faults.ts';
import { overlay } from '../plan/overlay/overlay.ts';
import type { XY } from '../plan/overlay/arrangement.ts';
import type { Kind } from '../plan/kinds.ts';
import type { FlowCatchments } from '../water/flow-lines.ts';
import { partOf, type Work } from '../work.ts';
import type { Answer } from './answers.ts';
import { heldBackAmong } from './damming.ts';
import type { ClearingWay, ClearingWays, WayKind } from './debris-answers.ts';
import { costOf, hoursOf, machineSettings } from './clearing-work.ts';
import type { DebrisBlocks, TalliedBlock } from './debris-blocks.ts';
import type { FeatureDefinition, GroundInUse, Inputs } from './definition.ts';
import { ringsInFrame } from './ground-inputs.ts';
import { nextYearOf } from './next-year.ts';
import { plantableGround } from './plantable-ground.ts';
import { planOnGround } from './plan-on-ground.ts';
import { pushedTo } from './push-of.ts';
import { burnReads, distancesOf } from './burning.ts';
import { gapReads } from './gaps-wanted.ts';
import { burns, takingSettings, type TakingKind } from './takings.ts';
import { wayFeatures, type WayGround } from './way-features.ts';
import { sightGround, sightOver, watchersOf, type Sight } from './way-sight.ts';

const ways = ['heaps', 'edge-berm', 'centre-windrow'] as const satisfies readonly WayKind[];

/** What is drawn that water meets and that holds no debris. */
const standing = ['structure', 'lane', 'ditch', 'culvert', 'outlet'] as const satisfies readonly Kind[]; // prettier-ignore

/** The three ways to lay the debris of a plot or clearing, side by side. */
export const clearingWays: FeatureDefinition = {
  name: 'clearingWays',
  per: ['plot', 'clearing'],
  last: true,
  reads: [
    ...gapReads,
    'answer:wayWind',
    'answer:debrisBlocks',
    'setting:pushReachMeters',
    ...burnReads,
    ...standing.map((kind) => `features:${kind}` as const),
    'features:no-go',
    ...takingSettings.map((key) => `setting:${key}` as const),
    'setting:takeOffTooSteep',
    'setting:tooSteepSlope',
    ...machineSettings.map((key) => `setting:${key}` as const),
  ],
  *compute(inputs, feature): Work<Answer<ClearingWays> | null> {
    const blocks = inputs.answer('debrisBlocks') as DebrisBlocks | null;
    const job = blocks && jobOf(inputs, feature, blocks);
    if (!job) return null;
    const said = hoursOf(job.blocks, inputs.settings);
    const hours = said.ok ? said.value : null;
    const sight = sightOf(inputs, job);
    const made: ClearingWay[] = [];
    for (const [i, way] of ways.entries()) {
      const one = measured(inputs, feature, job, way, hours, sight);
      const [from, to] = [i / ways.length, (i + 1) / ways.length];
      yield { share: from, doing: 'laying out the debris' };
      made.push(yield* partOf(one, from, to, 'laying out the debris'));
    }
    return {
      value: {
        debrisCubicMeters: job.volume,
        ways: made,
        hoursBasis: hours?.basis ?? null,
        offTable: hours?.offTable ?? [],
      },
      findings: [],
      basis: {
        method: [
          'Takes of each timber block the share of its debris that lies in this outline, and nothing else of debris as drawn.',
          'Heaps: one for every 900 yd³, each in the middle of what is pushed to it. Edge berm: along the stretch of the outline across which the least water drains. Center windrow: along the outline’s long axis, broken every 60 m, to burn in winter.',
          'Berm and windrow begin 24 ft wide and 9 ft high and are as long as they have to be. They have the gaps that are asked of a berm once it is drawn, and grow for what those take; a windrow stays clear of the trees at its ends where that leaves no more than a quarter without room.',
          'Nothing is pushed farther than debris is set to be pushed; what no part has room for within that is left over.',
          'Hours: tree count for felling, grubbing and piling, and what pushing farther than piling takes. Acres, water and sight as for anything drawn.',
        ],
        source:
          'Hardy 1996, PNW-GTR-364 (heaps); maker’s performance handbook and Peurifoy et al. (tree count); US Army FM 5-434 (pushing); 60 m and 8 m: Alberta county fire service. The rest: common practice, no source.',
        inputs: {
          workingStripMeters: inputs.settings.workingStripMeters,
          pushReachMeters: inputs.settings.pushReachMeters,
          burnConsumedShare: inputs.settings.burnConsumedShare,
          bermMaxHeightMeters: inputs.settings.bermMaxHeightMeters,
          gapSpacingMeters: inputs.settings.gapSpacingMeters,
        },
        confidence:
          'Good enough to choose between them; each is laid without knowing where you want to turn, park or shoot.',
      },
    };
  },
};

interface Job {
  readonly on: WayGround;
  readonly areas: readonly DebrisArea[];
  readonly volume: LowHigh;
  readonly blocks: readonly { readonly block: TalliedBlock; readonly areaSquareMeters: number }[];
  readonly ground: GroundInUse | null;
}

/** The debris inside an outline; null where there is less than one small heap. */
function jobOf(inputs: Inputs, feature: PlanFeature, all: DebrisBlocks): Job | null {
  if (feature.geometry.type !== 'Polygon' || findOutlineFault(feature.geometry.coordinates)) return null; // prettier-ignore
  const ground = inputs.raster('ground');
  const [lng, lat] = feature.geometry.coordinates[0]![0]!;
  const frame = ground?.frame ?? zoneFrame(lng, lat);
  const closed = ringsInFrame(feature, frame);
  if (!closed) return null;
  const rings = closed.map((ring) => ring.slice(0, -1)) as XY[][];
  const volume = { low: 0, likely: 0, high: 0 };
  const areas: DebrisArea[] = [];
  const blocks: { block: TalliedBlock; areaSquareMeters: number }[] = [];
  for (const one of all.blocks) {
    const own = ringsInFrame(one.block, frame)?.map((ring) => ring.slice(0, -1));
    if (!own) continue;
    const parts = overlay(
      [
        { rings: own, rule: 'even-odd' },
        { rings, rule: 'even-odd' },
      ],
      ([a, b]) => a! && b!,
    );
    const whole = overlay([{ rings: own, rule: 'even-odd' }], ([a]) => a!);
    const sum = (of: typeof parts) => of.reduce((total, part) => total + planeArea(part), 0);
    const share = sum(parts) / sum(whole);
    if (!(share > 1e-6)) continue;
    const { looseCubicMeters: loose } = one.volume;
    volume.low += loose.low * share;
    volume.likely += loose.likely * share;
    volume.high += loose.high * share;
    blocks.push({ block: one, areaSquareMeters: one.areaSquareMeters * share });
    for (const part of parts) {
      const cubicMeters = (loose.likely * planeArea(part)) / sum(whole);
      areas.push({ rings: part.map((ring) => [...ring, ring[0]!]), cubicMeters });
    }
  }
  if (volume.likely < inputs.settings.truckLoadCubicMeters) return null;
  const patches = debrisPatches(areas, usualPushing.mostPatches);
  if (!patches.ok) return null;
  const scale = frameMetersPerGroundMeter(frame, rings[0]![0]!);
  const on = { frame, scale, rings, patches: patches.value, cubicMeters: volume.likely, drainsAt: drains(inputs, ground) }; // prettier-ignore
  return { on, areas, volume, blocks, ground };
}

function drains(inputs: Inputs, ground: GroundInUse | null): WayGround['drainsAt'] {
  const flow = inputs.answer('bareFlow') as FlowCatchments | null;
  if (!ground || !flow) return () => 0;
  const { west, north, cellWidth, cellHeight, width, height } = ground.grid;
  return (x, y) => {
    const column = Math.floor((x - west) / cellWidth);
    const row = Math.floor((north - y) / cellHeight);
    if (column < 0 || row < 0 || column >= width || row >= height) return 0;
    return flow.areaSquareMeters[row * width + column]! || 0;
  };
}

interface SightJob {
  readonly over: (features: readonly PlanFeature[]) => Sight;
  readonly before: Sight;
}

function sightOf(inputs: Inputs, { on, ground }: Job): SightJob | null {
  if (!ground) return null;
  const watchers = watchersOf(inputs, ground, on.rings, inputs.features('lane'));
  const part = sightGround(ground, watchers);
  const over = (features: readonly PlanFeature[]) =>
    sightOver({ ...part.grid, data: planOnGround(part, features) }, watchers);
  return { over, before: over([]) };
}

function* measured(
  inputs: Inputs,
  plot: PlanFeature,
  job: Job,
  way: WayKind,
  clearing: ClearingHours | null,
  sight: SightJob | null,
): Work<ClearingWay> {
  const { on, ground, volume, areas } = job;
  const { settings } = inputs;
  const features = yield* wayFeatures(way, on, {
    inputs,
    others: standing.flatMap((kind) => [...inputs.features(kind)]),
    windFromDegrees: inputs.answer('wayWind') as number | null,
  });
  const holds = features.reduce((sum, one) => sum + (drawnVolume(one) ?? 0), 0);
  const kinds = (kind: TakingKind) =>
    kind === 'berm' || kind === 'heap'
      ? features.filter((one) => one.kind === kind)
      : inputs.features(kind);
  const plantable = plantableGround({ plot, features: kinds, settings, ground });
  const share = { low: volume.low / volume.likely, likely: 1, high: volume.high / volume.likely };
  const pushed = features.length > 0 ? pushedTo(areas, features, on.frame, ground, settings, share) : null; // prettier-ignore
  const push = pushed?.hours.beyondPiling ?? null;
  const leftOver = pushed?.plan.leftOverCubicMeters ?? on.cubicMeters - holds;
  const hours = clearing && added(clearing.hours, push);
  const water = yield* waterOf(inputs, features, ground);
  const seen = sight?.over(features);
  const fires = features.filter(burns);
  const near = fires.length > 0 ? distancesOf(inputs, fires, on.frame) : null;
  return {
    way,
    features,
    holdsCubicMeters: holds,
    leftOverCubicMeters: leftOver < 0.01 ? 0 : leftOver,
    plantableSquareMeters: plantable?.plantableSquareMeters ?? 0,
    nextFallSquareMeters: plantable?.nextFallSquareMeters ?? 0,
    footprintSquareMeters: footprint(features, on),
    hours,
    cost: hours && costOf(hours, settings.dozerHourlyRate),
    nextYearHours: nextYearOf(features, settings)?.touchUpHours ?? null,
    pushHours: push,
    meanPushMeters: pushed?.plan.meanMeters ?? null,
    greatestPushMeters: pushed?.plan.greatestMeters ?? null,
    uphillShare: pushed?.plan.uphillShare ?? null,
    ...water,
    distances: near?.distances ?? [],
    notDrawn: near?.notDrawn ?? [],
    seats: (seen?.seats ?? []).map(({ standId, share: seenShare }, i) => {
      return { standId, seenShareBefore: sight!.before.seats[i]!.share, seenShare };
    }),
    laneSeenShare: seen?.laneShare ?? null,
    laneSeenShareBefore: sight?.before.laneShare ?? null,
  };
}

function* waterOf(
  inputs: Inputs,
  features: readonly PlanFeature[],
  ground: GroundInUse | null,
): Work<Pick<ClearingWay, 'dammedSquareMeters' | 'turnedSquareMeters'>> {
  if (!ground) return { dammedSquareMeters: null, turnedSquareMeters: null };
  const others = standing.flatMap((kind) => [...inputs.features(kind)]);
  let [dammed, turned] = [0, 0];
  for (const [i, feature] of features.entries()) {
    const part = heldBackAmong(inputs, feature, others);
    const held = yield* partOf(part, i / features.length, (i + 1) / features.length);
    for (const pond of held?.around.ponds.filter(held.counts) ?? []) dammed += pond.areaSquareMeters; // prettier-ignore
    for (const one of held?.turned ?? []) if (one.passesBy !== 'a-gap') turned += one.catchmentSquareMeters; // prettier-ignore
  }
  return { dammedSquareMeters: dammed, turnedSquareMeters: turned };
}

function footprint(features: readonly PlanFeature[], { frame, scale }: WayGround): number {
  const layers = features.flatMap((one) => {
    if (isKind(one, 'berm')) return bermFootprint(one, frame) ?? [];
    return isKind(one, 'heap') ? (heapFootprint(one, frame) ?? []) : [];
  });
  const area = layers.reduce((sum, layer) => {
    const parts = overlay([layer], ([inside]) => inside!);
    return sum + parts.reduce((all, part) => all + planeArea(part), 0);
  }, 0);
  return area / scale ** 2;
}

function added(a: LowHigh, b: LowHigh | null): LowHigh {
  if (!b) return a;
  return { low: a.low + b.low, likely: a.likely + b.likely, high: a.high + b.high };
}
