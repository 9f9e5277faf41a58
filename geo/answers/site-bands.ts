import { exposureField } from '../approach/lane-cost.ts';
import { laneQuality } from '../approach/lane-quality.ts';
import { scentExposures, type ReachAt } from '../approach/scent-exposure.ts';
import { siteBand, type SiteBand } from '../approach/siting.ts';
import { metersFromFeet } from '../frame/units.ts';
import { frameMetersPerGroundMeter } from '../plan/construct/plan-plane.ts';
import { isKind } from '../plan/feature.ts';
import type { XY } from '../plan/overlay/arrangement.ts';
import { isInPolygon } from '../plan/point-in-polygon.ts';
import { shapeDistance } from '../plan/shape-distance.ts';
import type { ShotRule, Weapon } from '../plan/shot-rules.ts';
import type { Grid } from '../raster/grid.ts';
import { seasonHours, type SeasonHours } from '../wind/season-hours.ts';
import { seatReach } from '../wind/seat-reach.ts';
import { SECTORS, sectorOf } from '../wind/sectors.ts';
import { judgeSeason, WORKS } from '../wind/stand-season.ts';
import { partOf, type Work } from '../work.ts';
import type { GroundInUse, Inputs, SiteDefinition } from './definition.ts';
import type { LaneSite } from './lane-site.ts';
import { planOnGround } from './plan-on-ground.ts';
import { openingAt, protectedGrounds, protectedKinds } from './seats.ts';
import { turnedToGrid } from './seat-verdicts.ts';
import { requiredOf, shotPlaces, soundRings, tractRings } from './shot-places.ts';
import { driftRuleOf, driftSettings, exposureAt } from './stand-winds.ts';
import { EYE_OVER_FLOOR_METERS, TARGET_METERS } from './stand-shots.ts';
import { lightSettings, type WindInUse } from './wind-record.ts';

/** A ladder stand's floor, as a stand is drawn with. */
export const FLOOR_METERS = metersFromFeet(12);
/** The band round a plot that is looked at, and how closely (ours). */
const NEAR_METERS = 2;
export const FAR_METERS = 40;
export const STEP_METERS = 6;
/** Scent along a walk changes slowly from place to place: judged so far apart. */
const LATTICE_METERS = 16;
/** How the lanes reach every place takes about so much of it. */
const LANES_SHARE = 0.3;
export const LOOKING = 'looking where a stand could go';

/** What a place was judged by over the band, before any stand that is drawn is looked at. */
export interface SiteBands {
  readonly frame: GroundInUse['frame'];
  readonly convergenceDegrees: number;
  readonly knowsLanes: boolean;
  /** Legal hours of the record in true bearings; null without a wind record. */
  readonly season: { readonly hours: SeasonHours; readonly longitude: number; readonly latitude: number } | null; // prettier-ignore
  readonly plots: readonly PlotBand[];
}

export interface PlotBand {
  readonly plotId: string;
  readonly weapon: Weapon;
  /** Frame metres. */
  readonly rings: readonly (readonly XY[])[];
  /** Null where the plot is off the ground or too small to have one. */
  readonly band: SiteBand | null;
}

/** Hours, sight and way in of every place round each plot, when it is asked where a stand could go. */
export const siteBands: SiteDefinition = {
  name: 'siteBands',
  per: 'site',
  shown: false,
  keep: 1,
  reads: [
    'setting:wantsSiting',
    'answer:sightGround',
    'answer:windRecord',
    'answer:laneSite',
    ...protectedKinds.map((kind) => `features:${kind}` as const),
    'features:timber-block',
    'features:structure',
    'features:no-go',
    'features:property-line',
    'features:berm',
    'features:heap',
    'setting:windStations',
    'setting:siteCover',
    'setting:shotRules',
    ...driftSettings.map((key) => `setting:${key}` as const),
    ...lightSettings.map((key) => `setting:${key}` as const),
  ],
  *compute(inputs): Work<SiteBands | null> {
    const ground = inputs.answer('sightGround') as GroundInUse | null;
    if (!inputs.settings.wantsSiting || !ground) return null;
    const { frame } = ground;
    const convergenceDegrees = convergenceOf(ground);
    const wind = inputs.answer('windRecord') as WindInUse | null;
    const hours = wind && seasonHours(wind.record, wind.sun, wind.longitude, wind.latitude);
    if (!wind || !hours || hours.count === 0) return { frame, convergenceDegrees, knowsLanes: false, season: null, plots: [] }; // prettier-ignore
    const turned = turnedToGrid(hours, convergenceDegrees);
    const around = reachAround(inputs, ground);
    const laneSite = inputs.answer('laneSite') as LaneSite | null;
    const laneAt = yield* partOf(laneQualityOf(inputs, laneSite, turned, around), 0, LANES_SHARE, LOOKING); // prettier-ignore
    const hoursAt = hoursShareOf(inputs, ground, turned, around);
    const surface: Grid = { ...ground.grid, data: planOnGround(ground, [...inputs.features('berm'), ...inputs.features('heap')]) }; // prettier-ignore
    const plots: PlotBand[] = [];
    const asked = [...inputs.features('plot')].sort((a, b) => (a.id < b.id ? -1 : 1));
    const shareAt = (plotsDone: number) => LANES_SHARE + ((1 - LANES_SHARE) * plotsDone) / asked.length; // prettier-ignore
    for (const [i, plot] of asked.entries()) {
      const rings = soundRings(plot, frame);
      if (!rings || !isKind(plot, 'plot')) continue;
      const weapon: Weapon = plot.properties.weapon ?? 'rifle';
      const rule = inputs.settings.shotRules[weapon];
      const sought = bandOf(inputs, ground, surface, rings, rule, hoursAt, laneAt);
      const band = yield* partOf(sought, shareAt(i), shareAt(i + 1), LOOKING);
      plots.push({ plotId: plot.id, weapon, rings, band });
    }
    const { longitude, latitude } = wind;
    const season = { hours, longitude, latitude };
    return { frame, convergenceDegrees, knowsLanes: laneAt !== null, season, plots };
  },
};

type ShareAt = (x: number, y: number) => number;

function* bandOf(
  inputs: Inputs,
  ground: GroundInUse,
  surface: Grid,
  rings: readonly (readonly XY[])[],
  rule: ShotRule,
  hoursShareAt: ShareAt,
  laneAt: ShareAt | null,
): Work<SiteBand | null> {
  try {
    return yield* siteBand({
      ground: surface,
      plot: rings,
      nearMeters: NEAR_METERS,
      farMeters: Math.max(NEAR_METERS + STEP_METERS, Math.min(FAR_METERS, rule.rangeMeters * 0.8)),
      stepMeters: STEP_METERS,
      eyeMeters: FLOOR_METERS + EYE_OVER_FLOOR_METERS,
      targetMeters: TARGET_METERS,
      rangeMeters: rule.rangeMeters,
      isAllowed: allowedOf(inputs, ground, rings[0]![0]!, rule),
      hoursShareAt,
      laneQualityAt: laneAt ?? (() => 1),
    });
  } catch (error) {
    // A plot off the ground or smaller than a step has no place.
    if (error instanceof RangeError) return null;
    throw error;
  }
}

/** On the tract, off every plot, bedding area and no-go ground, and with its setbacks kept. */
function allowedOf(inputs: Inputs, { frame }: GroundInUse, near: XY, rule: ShotRule) {
  const scale = frameMetersPerGroundMeter(frame, near);
  const tract = tractRings(inputs, frame);
  const closed = (['no-go', 'bedding-area', 'plot'] as const).flatMap((kind) =>
    inputs.features(kind).flatMap((feature) => {
      const rings = soundRings(feature, frame);
      return rings ? [rings] : [];
    }),
  );
  const places = shotPlaces(inputs, frame, tract).map(({ from, shape }) => ({ shape, away: requiredOf(rule, from) * scale })); // prettier-ignore
  return (x: number, y: number): boolean => {
    const at: XY = [x, y];
    if (tract.length > 0 && !isInPolygon(at, tract)) return false;
    if (closed.some((rings) => isInPolygon(at, rings))) return false;
    const here = { kind: 'point', paths: [[at]] } as const;
    return places.every(({ shape, away }) => away === 0 || shapeDistance(here, shape).meters >= away); // prettier-ignore
  };
}

/** What protected ground lies round a place. */
function reachAround(inputs: Inputs, { frame }: GroundInUse): ReachAt {
  const grounds = protectedGrounds(inputs, frame);
  const { scentRangeMeters } = inputs.settings;
  return (x, y) => seatReach([x, y], grounds, scentRangeMeters);
}

function hoursShareOf(
  inputs: Inputs,
  { frame }: GroundInUse,
  hours: SeasonHours,
  around: ReachAt,
): ShareAt {
  const rule = driftRuleOf(inputs.settings);
  return (x, y) => {
    const { share, isSheltered } = exposureAt(inputs.settings, FLOOR_METERS, openingAt(inputs, frame, [x, y])); // prettier-ignore
    const seat = { reach: around(x, y), windShare: share, isSheltered };
    const { verdict } = judgeSeason(hours, seat, rule);
    let works = 0;
    for (const one of verdict) if (one === WORKS) works++;
    return works / hours.count;
  };
}

/** How little the walk in gives away over the season's winds; null without a way to begin. */
function* laneQualityOf(
  inputs: Inputs,
  site: LaneSite | null,
  hours: SeasonHours,
  around: ReachAt,
): Work<ShareAt | null> {
  if (!site || site.access.length === 0) return null;
  const rule = driftRuleOf(inputs.settings);
  const weights = new Float64Array(SECTORS);
  let blowing = 0;
  for (const from of hours.fromDegrees) {
    if (Number.isNaN(from)) continue;
    weights[sectorOf(from)]! += 1;
    blowing++;
  }
  if (blowing === 0) return null;
  const drifts = Array.from({ length: SECTORS }, (_, k) => {
    return { axisDegrees: (360 / SECTORS) * k + 180, halfAngleDegrees: rule.leastHalfAngleDegrees };
  });
  const overSeason = (x: number, y: number) => {
    // Looked round once for all sixteen.
    const here = around(x, y);
    const airs = scentExposures(() => here, drifts, rule.coreHalfAngleDegrees);
    return airs.reduce((sum, air, k) => sum + weights[k]! * air(x, y), 0) / blowing;
  };
  const exposure = exposureField(site.ground, overSeason, LATTICE_METERS);
  const access = site.access.map(({ at }) => at);
  const quality = yield* laneQuality(site.ground, exposure, access);
  const { west, north, width, height, cellWidth, cellHeight } = site.ground;
  return (x, y) => {
    const [column, row] = [Math.floor((x - west) / cellWidth), Math.floor((north - y) / cellHeight)]; // prettier-ignore
    const isOn = column >= 0 && row >= 0 && column < width && row < height;
    return isOn ? quality[row * width + column]! : 0;
  };
}

function convergenceOf({ grid, frame }: GroundInUse): number {
  const x = grid.west + (grid.width * grid.cellWidth) / 2;
  const y = grid.north - (grid.height * grid.cellHeight) / 2;
  return frame.distortionAt(x, y).convergenceDegrees;
}
