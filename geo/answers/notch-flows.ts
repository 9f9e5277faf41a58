import { curveNumberWhen } from '../water/soil-wetness.ts';
import { channelSoilOf } from '../water/channel-soil.ts';
import { notchFlow, type CoverVerdict, type NotchFlow } from '../water/notch-flow.ts';
import type { NotchSection } from '../water/notch-section.ts';
import { graphicalPeak, rationalPeak } from '../water/peak-flow.ts';
import { rainDepth } from '../water/rain-frequency.ts';
import { rainInHours } from '../water/rain-in-hours.ts';
import { runoffCoefficient } from '../water/runoff-coefficient.ts';
import { flowCover } from '../water/sheet-cover.ts';
import type { SpotWay, SpotWays } from '../water/spot-ways.ts';
import { stoneSizeMeters } from '../water/stone-size.ts';
import { concentrationHours } from '../water/travel-time.ts';
import { widerBottomMeters } from '../water/wider-bottom.ts';
import type { Answer, WaysOut } from './answers.ts';
import type { Inputs, SiteDefinition } from './definition.ts';
import { surveyConfidence } from './ground-inputs.ts';
import type { NotchFlows, NotchPeak, NotchRun } from './notch-answers.ts';
import { notchFlowFindings } from './notch-flow-findings.ts';
import { rainFrequencyOf } from './rain-frequency.ts';
import type { SpotCovers } from './spot-flow.ts';
import type { SurfaceClasses } from './surface-classes.ts';
import { waterGroundOf } from './water-ground.ts';

/** Rain of a day that comes every other year, where no table says: 3 in (ours; sheet flow only). */
const TWO_YEAR_RAIN_METERS = 0.0762;
/** Under this curve number TR-55 asks for another method (ch. 2, limitations). */
const LEAST_CURVE_NUMBER = 40;
/** Level ways still move water: half the least grade of a notch (ours). */
const LEAST_SLOPE = 0.0025;

/** Each notch under the storm of the Rain control: what comes, and whether the notch stands it. */
export const notchFlows: SiteDefinition = {
  name: 'notchFlows',
  per: 'site',
  reads: [
    'answer:waysOut',
    'answer:spotFlow',
    'answer:spotCovers',
    'answer:surfaceClasses',
    'answer:rainFrequency',
    'answer:waterGround',
    'record:ground',
    'condition:rain',
    'setting:rainType',
  ],
  compute(inputs): { done: Answer<NotchFlows> | null } {
    const ways = (inputs.answer('waysOut') as Answer<WaysOut> | null)?.value.ways;
    const flow = inputs.answer('spotFlow') as SpotWays | null;
    const covers = inputs.answer('spotCovers') as SpotCovers | null;
    const soils = inputs.answer('surfaceClasses') as SurfaceClasses | null;
    if (!ways || !flow || !covers || !soils) return { done: null };
    const twoYear = twoYearRain(inputs);
    const runs = ways.flatMap(({ id, notch, bars }, k): NotchRun[] => {
      if (!notch) return [];
      const way = flow.ways[k]!;
      const cover = covers[k]!;
      const peak = peakOf(inputs, way, cover, soils, twoYear.meters);
      const soil = channelSoilOf(soils.classes[cover.classAtSpot]!.soil);
      const section: NotchSection = notch;
      const cubic = peak.cubicMetersPerSecond;
      const found = notchFlow(cubic, section, soil, notch.outletSlopeRatio);
      const deepest = found.inNotch.at(-1)!.depthMeters;
      const wider = (most: number) => widerBottomMeters(cubic, section, soil, 'fair-grass', most);
      const tooFast = found.holdsFrom === null;
      return [
        {
          id,
          isBarred: bars.length > 0,
          peak,
          soil,
          bare: verdictOf(found, 'bare'),
          inGrass: verdictOf(found, 'fair-grass'),
          holdsFrom: found.holdsFrom,
          fastestMetersPerSecond: found.inNotch[0]!.metersPerSecond,
          tooSmall: deepest > notch.maxCutMeters,
          deepestMeters: deepest,
          cutMeters: notch.maxCutMeters,
          widerBottomMeters:
            tooFast || deepest > notch.maxCutMeters ? wider(notch.maxCutMeters) : null,
          stoneMeters: tooFast ? stoneSizeMeters(found.inNotch.at(-1)!.metersPerSecond) : null,
          outlet: found.atOutlet && {
            ...found.atOutlet,
            stoneMeters: found.atOutlet.holds
              ? null
              : stoneSizeMeters(found.atOutlet.metersPerSecond),
          },
          steepestBelowRatio: notch.steepestBelowRatio,
          steepBelow: notch.steepBelow,
        },
      ];
    });
    const value: NotchFlows = { runs, twoYearRainMeters: twoYear.meters };
    return {
      done: {
        value,
        findings: notchFlowFindings(value),
        basis: {
          method: [
            'Catchment by D-infinity on the filled ground; hollows on the way are taken as brim full and hold nothing back, which errs to the safe side.',
            'Time of concentration: sheet flow over the first 100 ft of the longest way, shallow flow over the rest.',
            'Peak by the graphical method of TR-55 from the rain of 24 hours that is as rare as the rain under the map; by the rational formula, from the rain of just the time of concentration, where the curve number is under 40. The other is shown beside it.',
            'The hours of the rain change how rare it is, so a shorter rain of the same depth has a higher peak; they change neither how much runs off nor what stands.',
            'Depth and mean speed in the notch by Manning, bare and under grass, against the fastest speed published for the soil and cover; at its end on the slope of the ground below, in good grass.',
            'A wider bottom is the least, in whole feet, that keeps fair grass and the flow within the cut; stone by Isbash. A flatter bottom is not offered: it falls no more than the 0.5 % that drains.',
          ],
          source:
            'USDA TR-55 (1986) ch. 3, 4 and appendix F; Manning’s n of Chow 1959; speeds of the Minnesota Stormwater Manual and SCS TP-61; Isbash 1935.',
          inputs: {
            rainType: inputs.settings.rainType,
            twoYearDayRainMeters: twoYear.meters,
            twoYearRainFrom: twoYear.isKnown ? 'the rainfall table' : 'assumed, no table',
          },
          confidence: surveyConfidence(waterGroundOf(inputs)),
        },
      },
    };
  },
};

function verdictOf({ inNotch }: NotchFlow, cover: CoverVerdict['cover']): CoverVerdict {
  return inNotch.find((one) => one.cover === cover)!;
}

function twoYearRain(inputs: Inputs): { readonly meters: number; readonly isKnown: boolean } {
  const { table } = rainFrequencyOf(inputs);
  const known = table && rainDepth(table, 24, 2);
  return known
    ? { meters: known, isKnown: true }
    : { meters: TWO_YEAR_RAIN_METERS, isKnown: false };
}

function peakOf(
  inputs: Inputs,
  way: SpotWay,
  cover: SpotCovers[number],
  soils: SurfaceClasses,
  twoYearRainMeters: number,
): NotchPeak {
  const { rain } = inputs.conditions;
  const { rainType } = inputs.settings;
  const { table } = rainFrequencyOf(inputs);
  const numbers = soils.classes.map(({ curveNumber }) => curveNumberWhen(curveNumber, rain.soil));
  const curveNumber = meanOf(cover.cellsByClass, numbers);
  const head = soils.classes[cover.classAtHead]!;
  const slopeRatio = Math.max(
    LEAST_SLOPE,
    way.lengthMeters > 0 ? way.fallMeters / way.lengthMeters : 0,
  );
  const hours = concentrationHours({
    // A spot that nothing else drains into still gathers over its own cells.
    lengthMeters: Math.max(1, way.lengthMeters),
    slopeRatio,
    roughness: flowCover(head.cover).sheetRoughness,
    twoYearRainMeters,
  });
  const day = rainInHours(rain, 24, table, rainType);
  const short = rainInHours(rain, hours, table, rainType);
  const graphical =
    day.meters > 0
      ? graphicalPeak({
          areaSquareMeters: way.catchmentSquareMeters,
          curveNumber,
          dayRainMeters: day.meters,
          concentrationHours: hours,
          rainType,
        }).cubicMetersPerSecond
      : 0;
  const coefficient = meanOf(
    cover.cellsByClass,
    soils.classes.map((one) =>
      runoffCoefficient(flowCover(one.cover).rational, rationalSoil[one.group], slopeRatio),
    ),
  );
  const rational = rationalPeak(coefficient, short.meters / hours, way.catchmentSquareMeters);
  const method = curveNumber >= LEAST_CURVE_NUMBER ? 'graphical' : 'rational';
  return {
    method,
    cubicMetersPerSecond: method === 'graphical' ? graphical : rational,
    graphicalCubicMetersPerSecond: graphical,
    rationalCubicMetersPerSecond: rational,
    catchmentSquareMeters: way.catchmentSquareMeters,
    curveNumber,
    coefficient,
    concentrationHours: hours,
    longestWayMeters: way.lengthMeters,
    slopeRatio,
    dayRainMeters: day.meters,
    rainBy: day.by,
  };
}

/** TR-55's textures of the groups (appendix A), as the rational formula's table knows them. */
const rationalSoil = {
  A: 'sandy-loam',
  B: 'clay-or-silt-loam',
  C: 'clay-or-silt-loam',
  D: 'tight-clay',
} as const;

function meanOf(cells: Int32Array, values: readonly number[]): number {
  let all = 0;
  let sum = 0;
  for (const [i, some] of cells.entries()) {
    all += some;
    sum += some * values[i]!;
  }
  return sum / all;
}
