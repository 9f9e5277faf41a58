import { areOtherPlaces, bestSites, type PlacesApart, type SitePick } from '../approach/siting.ts';
import { metersFromYards } from '../frame/units.ts';
import { frameMetersPerGroundMeter } from '../plan/construct/plan-plane.ts';
import { roundDegrees } from '../plan/feature.ts';
import type { XY } from '../plan/overlay/arrangement.ts';
import { bearing, standsInArc } from '../sight/stands-in-arc.ts';
import { seasonPaths, type SeasonPaths } from '../wind/season-slope-air.ts';
import { seatReach, type ProtectedGround } from '../wind/seat-reach.ts';
import { standSeason, windsThatWork } from '../wind/stand-season.ts';
import { poolCells, pooledScent, pooledVerdict, type PoolCells } from '../wind/pooled-scent.ts';
import type { Verdict } from '../wind/wind-verdict.ts';
import { partOf, type Work } from '../work.ts';
import type { Answer } from './answers.ts';
import { coldAirAbout, type ColdAirWindow } from './cold-air.ts';
import type { GroundInUse, Inputs, SiteDefinition } from './definition.ts';
import type { Finding } from './finding.ts';
import { finding, inFrame } from './ground-inputs.ts';
import { openingAt, protectedGrounds, protectedKinds, seatPlace } from './seats.ts';
import { seatVerdicts } from './seat-verdicts.ts';
import type { PlotSites, SitePlace, Siting } from './shot-answers.ts';
import { FAR_METERS, FLOOR_METERS, LOOKING, STEP_METERS, type PlotBand, type SiteBands } from './site-bands.ts'; // prettier-ignore
import { arcAt, arcsOfStands, othersOf, type Here } from './stand-setbacks.ts';
import { driftSettings } from './stand-winds.ts';

/** From every stand that is drawn; two places of one plot by `placesApart`. Ours. */
const APART_METERS = 40;
const placesApart: PlacesApart = { meters: metersFromYards(75), otherSideMeters: APART_METERS, otherSideDegrees: 90 }; // prettier-ignore
/** So many places of a plot are judged with the slope's own air, and so many of them are given. */
const JUDGED = 6;
const COUNT = 3;
/** A seat that is not drawn yet. */
const NEW = '';

/** Where a stand could go round each plot beside those that are drawn, when it is asked for. */
export const siting: SiteDefinition = {
  name: 'siting',
  per: 'site',
  keep: 1,
  reads: [
    'answer:siteBands',
    'answer:siteAir',
    'answer:sightGround',
    'raster:ground',
    'features:stand',
    ...protectedKinds.map((kind) => `features:${kind}` as const),
    'features:timber-block',
    'setting:windStations',
    'setting:siteCover',
    'setting:shotRules',
    'setting:shotHalfArcDegrees',
    'setting:units',
    ...driftSettings.map((key) => `setting:${key}` as const),
  ],
  *compute(inputs): Work<Answer<Siting> | null> {
    const bands = inputs.answer('siteBands') as SiteBands | null;
    if (!bands) return null;
    const { season, knowsLanes } = bands;
    if (!season) return given({ plots: [], knowsLanes, hours: 0 }, [finding('note', 'siting-no-wind')]); // prettier-ignore
    const paths = seasonPaths(season.hours, season.longitude, season.latitude);
    const grounds = protectedGrounds(inputs, bands.frame);
    const cells = new Map<ColdAirWindow, PoolCells>();
    const plots: PlotSites[] = [];
    for (const [i, plot] of bands.plots.entries()) {
      const share = (done: number) => done / bands.plots.length;
      const work = sitesOf({ inputs, bands, grounds, paths, cells }, plot);
      plots.push(yield* partOf(work, share(i), share(i + 1), LOOKING));
    }
    const value = { plots, knowsLanes, hours: season.hours.count };
    return given(value, findingsOf(inputs, value));
  },
};

/** What the places of all plots are judged by. */
interface Desk {
  readonly inputs: Inputs;
  readonly bands: SiteBands;
  readonly grounds: readonly ProtectedGround[];
  readonly paths: SeasonPaths;
  /** Filled as they are asked for. */
  readonly cells: Map<ColdAirWindow, PoolCells>;
}

function* sitesOf(desk: Desk, plot: PlotBand): Work<PlotSites> {
  const { plotId, weapon, band } = plot;
  if (!band) return { plotId, weapon, places: [], standThere: null };
  const here = hereAt(desk, plot.rings[0]![0]!);
  const toFrame = ([x, y]: XY): XY => [here.at[0] + x * here.scale, here.at[1] + y * here.scale];
  const drawn = arcsOfStands(desk.inputs, here);
  const standing = drawn.map(({ at }) => toFrame(at));
  const isClear = (at: XY): boolean => {
    const mine = arcAt(desk.inputs, here, { id: NEW, weapon, facingDegrees: facingFrom(plot, at, here) }, at); // prettier-ignore
    return drawn.every((one) => standsInArc([mine, one], 1).length === 0);
  };
  const middle = middleOf(plot);
  const isOther = (a: XY, b: XY) => areOtherPlaces(a, b, middle, placesApart);
  const choice = { apartMeters: APART_METERS, count: JUDGED, standing, isClear, isOther };
  const places: SitePlace[] = [];
  for (const pick of bestSites(band, choice)) {
    const place = placeOf(desk, plot, pick);
    if (place && scoreOf(place) > 0) places.push(place);
    yield { share: places.length / JUDGED, doing: 'judging the places' };
  }
  const inLine = ({ inLine: others }: SitePlace) => (others.length > 0 ? 1 : 0);
  places.sort((a, b) => inLine(a) - inLine(b) || scoreOf(b) - scoreOf(a));
  const [top] = bestSites(band, { ...choice, count: 1, standing: [], isClear: () => true });
  return { plotId, weapon, places: places.slice(0, COUNT), standThere: top ? nearestTo(desk, top.at) : null }; // prettier-ignore
}

function hereAt({ bands }: Desk, at: XY): Here {
  const { frame } = bands;
  const { convergenceDegrees } = frame.distortionAt(at[0], at[1]);
  return { frame, at, scale: frameMetersPerGroundMeter(frame, at), convergenceDegrees };
}

/** True bearing of the middle of a plot's corners, whole degrees, as a stand set there is given it. */
function facingFrom(plot: PlotBand, [x, y]: XY, { convergenceDegrees }: Here): number {
  const middle = middleOf(plot);
  return Math.round(bearing(middle[0] - x, middle[1] - y) + convergenceDegrees + 360) % 360;
}

function middleOf({ rings }: PlotBand): XY {
  const corners = rings[0]!;
  const middle = (axis: 0 | 1) => corners.reduce((sum, p) => sum + p[axis], 0) / corners.length;
  return [middle(0), middle(1)];
}

/** A place as a stand set there is judged; null where rounding takes it off the frame. */
function placeOf({ inputs, ...rest }: Desk, plot: PlotBand, pick: SitePick): SitePlace | null {
  const { bands, grounds, paths } = rest;
  const { frame } = bands;
  const [lng, lat] = frame.toLngLat(pick.at[0], pick.at[1]).map(roundDegrees) as [number, number];
  const at = inFrame(frame, [lng, lat]);
  if (!at) return null;
  const here = hereAt({ inputs, ...rest }, at);
  const { settings } = inputs;
  const reach = seatReach(at, grounds, settings.scentRangeMeters);
  const seat = seatPlace(inputs.raster('ground'), frame, at);
  const openingTreeHeights = openingAt(inputs, frame, at);
  const pooled = pooledAt({ inputs, ...rest }, at);
  const judged = { ...seat, seatHeightMeters: FLOOR_METERS, reach, openingTreeHeights, pooled };
  const { hours } = bands.season!;
  const season = standSeason(hours, seatVerdicts(settings, judged, hours, paths));
  const { morning, evening } = season;
  const facingDegrees = facingFrom(plot, at, here);
  return {
    at: [lng, lat],
    facingDegrees,
    worksOn: windsThatWork(season),
    season: { morning, evening },
    inLine: othersOf(inputs, { id: NEW, weapon: plot.weapon, facingDegrees }, here),
    parts: { ...pick.parts, hours: (morning.works + evening.works) / hours.count },
    betterThan: pick.betterThan,
    worseThan: pick.worseThan,
    weakest: pick.weakest,
  };
}

/** What pools of evening air do at a place, as at a stand that is drawn. */
function pooledAt({ inputs, grounds, cells }: Desk, at: XY): Verdict | null {
  const ground = inputs.answer('sightGround') as GroundInUse | null;
  const windows = inputs.answer('siteAir') as readonly ColdAirWindow[];
  const { scentRangeMeters } = inputs.settings;
  const window = ground && coldAirAbout(windows, ground, at, scentRangeMeters);
  if (!window) return null;
  let inPools = cells.get(window);
  if (!inPools) cells.set(window, (inPools = poolCells(window.pools, grounds)));
  return pooledVerdict(pooledScent(window.pools, inPools, at, scentRangeMeters));
}

function scoreOf({ parts }: SitePlace): number {
  return parts.hours * parts.seen * parts.lane;
}

/** The nearest stand that is drawn, if it is so near that it is as good as there. */
function nearestTo(desk: Desk, at: XY): PlotSites['standThere'] {
  const here = hereAt(desk, at);
  const unit = desk.inputs.settings.units === 'metric' ? 1 : metersFromYards(1);
  const near = arcsOfStands(desk.inputs, here)
    .map((one) => ({ standId: one.id, meters: Math.hypot(one.at[0], one.at[1]) }))
    .filter(({ meters }) => meters * here.scale < APART_METERS)
    .sort((a, b) => a.meters - b.meters)[0];
  return near ? { standId: near.standId, unitsAway: Math.floor(near.meters / unit + 1e-9) } : null;
}

function findingsOf(inputs: Inputs, { plots, knowsLanes }: Siting): Finding[] {
  if (plots.length === 0) return [finding('note', 'siting-no-plot')];
  return [
    ...plots.flatMap(({ plotId, standThere }) => {
      if (!standThere) return [];
      const { standId, unitsAway } = standThere;
      const stand = inputs.features('stand').find(({ id }) => id === standId)?.name ?? null;
      return finding('note', 'siting-stand-there', [plotId], { unitsAway, stand, apartMeters: APART_METERS }); // prettier-ignore
    }),
    ...plots
      .filter(({ places }) => places.length === 0)
      .map(({ plotId }) => finding('note', 'siting-nowhere', [plotId])),
    ...plots
      .filter(({ places }) => places.length > 0 && places.length < COUNT)
      .map(
        ({ plotId, places }) =>
        finding('note', 'siting-few', [plotId], { count: places.length, apartMeters: placesApart.meters }), // prettier-ignore
      ),
    ...(knowsLanes ? [] : [finding('note', 'siting-no-access')]),
  ];
}

function given(value: Siting, findings: readonly Finding[]): Answer<Siting> {
  return {
    value,
    findings,
    basis: {
      method: [
        'Looks at places {stepMeters} apart in a band round each plot, out to {bandMeters} or most of the way that the weapon shoots, on the tract, off no-go ground, bedding areas and plots, and with every setback kept.',
        'Over the band, hours are judged by wind and shelter. The best six places of a plot are then judged with the slope’s own air too and where it stands, as a stand set there is, and that is what is said of them.',
        'Sight: the share of the plot within range that is seen from a {floorMeters} floor over bare ground, berms and heaps.',
        'Way in: the seconds of the quickest walk over those of the best one, weighed by what it gives away over the season’s winds.',
        'The three are multiplied to choose by and kept apart to judge by. Two places of a plot lie {placesApartMeters} apart, or {apartMeters} on sides of it a quarter turn apart; each {apartMeters} from every stand that is drawn.',
        'A place that faces a drawn stand within range, or lies in the arc and range of one, comes after every other.',
      ],
      source:
        'The parts: as the stands and their lanes are judged. Band, floor and product: ours, common practice at best.',
      inputs: {
        hours: value.hours,
        floorMeters: FLOOR_METERS,
        stepMeters: STEP_METERS,
        bandMeters: FAR_METERS,
        apartMeters: APART_METERS,
        placesApartMeters: placesApart.meters,
      },
      confidence:
        'A first try: trees to climb, sign and what the neighbors do are not known here. Walk it, and set a stand there to have its shots judged.',
    },
  };
}
