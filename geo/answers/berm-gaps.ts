import { bermVolume } from '../debris/berm-volume.ts';
import { sectionForVolume } from '../debris/berm-solve.ts';
import type { Stretch } from '../debris/fewest-gaps.ts';
import { crossingStations, gapBySeat, stretchesFacing, stretchesInside } from '../debris/gap-needs.ts'; // prettier-ignore
import {
  gapStations,
  type GapPlan,
  type GapRules,
  type RequiredGap,
} from '../debris/gap-stations.ts';
import { sideRun, type WindrowSection } from '../debris/windrow-sections.ts';
import { zoneFrame } from '../frame/zone-frame.ts';
import type { Frame } from '../frame/crs-types.ts';
import { lineLengthMeters } from '../frame/geodesic.ts';
import { isKind, type PlanFeature } from '../plan/feature.ts';
import { lineLength, placeAt } from '../plan/line-geometry.ts';
import type { XY } from '../plan/overlay/arrangement.ts';
import type { Result } from '../result.ts';
import type { Work } from '../work.ts';
import type { Answer } from './answers.ts';
import { dammingReads, heldBack } from './damming.ts';
import type { BermGaps } from './debris-answers.ts';
import { bermSight } from './berm-sight.ts';
import { bermParts, sectionOf } from './debris-sinks.ts';
import type { FeatureDefinition, Inputs } from './definition.ts';
import type { Finding } from './finding.ts';
import { finding, inFrame, ringsInFrame } from './ground-inputs.ts';
import { gapsThatLetThrough } from './letting-gaps.ts';
import { lineInFrame } from './plan-on-ground.ts';

/** A seat farther off than so looks through no gap: 100 yd, common practice, no source. */
const SEAT_REACH_METERS = 91.44;
/** A windrow that burns is broken at least every 60 m (Alberta county fire service, handbook §12.1). */
const BURN_SPACING_METERS = 60;
/** Stations are tried this far apart. */
const STEP = 1;

/** The fewest gaps that a berm needs: for water, corridors, lanes, seats and wildlife together. */
export const bermGaps: FeatureDefinition = {
  name: 'bermGaps',
  per: 'berm',
  reads: [
    ...dammingReads,
    'answer:afterStorm',
    'features:lane',
    'features:travel-corridor',
    'features:stand',
    'features:plot',
    'answer:gapWind',
    'setting:gapSpacingMeters',
    'setting:burnGapWidthMeters',
    'setting:bermMaxHeightMeters',
  ],
  *compute(inputs, feature): Work<Answer<BermGaps> | null> {
    if (!isKind(feature, 'berm') || feature.geometry.type !== 'LineString') return null;
    const [lng, lat] = feature.geometry.coordinates[0]!;
    const frame = inputs.raster('ground')?.frame ?? zoneFrame(lng, lat);
    const line = lineInFrame({ frame }, feature);
    if (!line || !(lineLength(line) > 0)) return null;
    const lengthMeters = lineLengthMeters(feature.geometry.coordinates);
    const scale = lineLength(line) / lengthMeters;
    const { settings } = inputs;
    const { toBurn } = feature.properties;
    const widthMeters = toBurn ? settings.burnGapWidthMeters : settings.gapWidthMeters;
    const spacingMeters = toBurn
      ? Math.min(BURN_SPACING_METERS, settings.gapSpacingMeters)
      : settings.gapSpacingMeters;
    const barred = barredStretches(inputs, frame, line, scale);
    const required = [
      ...(yield* waterGaps(inputs, feature, widthMeters)),
      ...crossingGaps(inputs, frame, line, scale, widthMeters),
      ...seatGaps(inputs, frame, line, scale, barred, widthMeters),
    ];
    const rules = { widthMeters, spacingMeters, barred };
    const { plan, fit, leastPartMeters } = planned(
      feature,
      lengthMeters,
      required,
      rules,
      settings,
    );
    const made = plan.ok ? valueOf(plan.value, fit, lengthMeters, line, scale, frame) : null;
    const value = made && { ...made, seats: bermSight(inputs, feature, made) };
    return {
      value: value ?? { gaps: [], lengthMeters, section: null, leftOverCubicMeters: 0, seats: [] },
      findings: findingsOf(feature, plan),
      basis: {
        method: [
          'A gap where each flow line comes that the berm would turn aside without gaps, and where one lets through what it would dam, found by trying on the ground.',
          'A gap where a lane or travel corridor crosses, and by each seat within 15 to 30 yd, as square to the wind as the line lets it be; none that a seat within 100 yd looks straight through.',
          'Then the fewest more, as even as can be, that leave no part longer than the spacing; one that reaches another becomes one with it.',
          'What the gaps take is put back: the berm gets as high as holds what it holds as drawn, its sides as they are, and no part is shorter than it is then wide.',
        ],
        source:
          'Gap 12 to 20 ft, spacing, 15 to 30 yd off the seat and crosswind: common practice, no source. One that burns: 60 m at most, 8 m gap, Alberta county fire service (handbook §12.1).',
        inputs: {
          gapWidthMeters: widthMeters,
          gapSpacingMeters: spacingMeters,
          leastPartMeters,
          mustBe: required.length,
        },
        confidence:
          'Where water comes is as good as the survey; walk the line after a rain before you leave a gap out.',
      },
    };
  },
};

function* waterGaps(
  inputs: Inputs,
  berm: PlanFeature<'berm'>,
  gapWidthMeters: number,
): Work<RequiredGap[]> {
  const whole = { ...berm, properties: { ...berm.properties, gaps: [] } };
  const held = yield* heldBack(inputs, whole);
  if (!held?.line) return [];
  const { line, others, counts, turned, around } = held;
  const order = { berm: whole, line, others, counts, turned: turned ?? [], gapWidthMeters };
  const { gaps } = yield* gapsThatLetThrough(around, order);
  return gaps.map(({ stationMeters, widthMeters }) => {
    return { stationMeters, widthMeters, reason: 'water' };
  });
}

function crossingGaps(
  inputs: Inputs,
  frame: Frame,
  line: readonly XY[],
  scale: number,
  gapWidth: number,
): RequiredGap[] {
  const gaps: RequiredGap[] = [];
  for (const lane of inputs.features('lane')) {
    const other = lineInFrame({ frame }, lane);
    for (const station of other ? crossingStations(line, other) : []) {
      gaps.push({ stationMeters: station / scale, widthMeters: gapWidth, reason: 'lane' });
    }
  }
  for (const corridor of inputs.features('travel-corridor')) {
    const own = isKind(corridor, 'travel-corridor') ? (corridor.properties.widthMeters ?? 0) : 0;
    const other = lineInFrame({ frame }, corridor);
    for (const station of other ? crossingStations(line, other) : []) {
      const widthMeters = Math.max(gapWidth, own);
      gaps.push({ stationMeters: station / scale, widthMeters, reason: 'corridor' });
    }
    const rings = corridor.geometry.type === 'Polygon' ? ringsInFrame(corridor, frame) : null;
    for (const [from, to] of rings ? stretchesInside(line, rings, STEP) : []) {
      const stationMeters = (from + to) / 2 / scale;
      gaps.push({ stationMeters, widthMeters: gapWidth, reason: 'corridor' });
    }
  }
  return gaps;
}

function barredStretches(
  inputs: Inputs,
  frame: Frame,
  line: readonly XY[],
  scale: number,
): Stretch[] {
  return seatsOf(inputs, frame).flatMap((seat) =>
    stretchesFacing(line, seat, SEAT_REACH_METERS * scale, STEP).map(([from, to]): Stretch => [
      from / scale,
      to / scale,
    ]),
  );
}

function seatGaps(
  inputs: Inputs,
  frame: Frame,
  line: readonly XY[],
  scale: number,
  barred: readonly Stretch[],
  widthMeters: number,
): RequiredGap[] {
  const fromDegrees = inputs.answer('gapWind') as number | null;
  const turn = fromDegrees === null ? null : (fromDegrees * Math.PI) / 180;
  const wind: XY | null = turn === null ? null : [Math.sin(turn), Math.cos(turn)];
  return seatsOf(inputs, frame).flatMap((seat): RequiredGap[] => {
    const station = gapBySeat(line, seat, wind, barred, STEP);
    return station === null ? [] : [{ stationMeters: station / scale, widthMeters, reason: 'stand' }]; // prettier-ignore
  });
}

function seatsOf(inputs: Inputs, frame: Frame): XY[] {
  return inputs.features('stand').flatMap(({ geometry }) => {
    const at = geometry.type === 'Point' ? inFrame(frame, geometry.coordinates) : null;
    return at ? [at as XY] : [];
  });
}

/** Parts get shorter as gaps become one, and the berm wider: more often than so it has not been seen. */
const ROUNDS = 6;

interface Planned {
  readonly plan: Result<GapPlan>;
  readonly fit: Fit;
  readonly leastPartMeters: number;
}
interface Fit {
  readonly section: WindrowSection | null;
  readonly leftOverCubicMeters: number;
}

/**
 * The gaps, and the section that holds between them what the berm holds as it is drawn; gaps that the
 * section then leaves no full part between become one. Of a berm that has these gaps and this section
 * it asks for the same again.
 */
function planned(
  berm: PlanFeature<'berm'>,
  lengthMeters: number,
  required: readonly RequiredGap[],
  rules: Omit<GapRules, 'leastPartMeters'>,
  settings: Inputs['settings'],
): Planned {
  const section = sectionOf(berm);
  const whole = { ...berm, properties: { ...berm.properties, gaps: [] } };
  const asDrawn = bermVolume(section, bermParts(berm));
  const volume = asDrawn > 0 ? asDrawn : bermVolume(section, bermParts(whole));
  const limits = {
    sideRun: sideRun(section),
    maxHeightMeters: settings.bermMaxHeightMeters,
    maxWidthMeters: null,
  };
  let leastPartMeters = section.baseWidthMeters;
  for (let round = 1; ; round++) {
    const plan = gapStations(lengthMeters, required, { ...rules, leastPartMeters });
    const lengths = plan.ok ? plan.value.parts.map(([from, to]) => to - from) : [];
    const solved = sectionForVolume(section.shape, lengths, volume, limits);
    const fit = {
      section: solved.ok ? solved.value.section : null,
      leftOverCubicMeters: solved.ok ? solved.value.leftOverCubicMeters : volume,
    };
    const width = fit.section?.baseWidthMeters ?? 0;
    if (width <= leastPartMeters || round === ROUNDS) return { plan, fit, leastPartMeters };
    leastPartMeters = width;
  }
}

function valueOf(
  { gaps }: GapPlan,
  fit: Fit,
  lengthMeters: number,
  line: readonly XY[],
  scale: number,
  frame: Frame,
): Omit<BermGaps, 'seats'> {
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
