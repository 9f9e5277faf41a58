import { bestLanes, defaultLaneOptions, type Lane, type LaneJob } from '../approach/best-lanes.ts';
import type { ExposureAt } from '../approach/lane-cost.ts';
import { leaveTruckAt } from '../approach/leave-truck.ts';
import { onLattice, reachOnLattice, scentExposures } from '../approach/scent-exposure.ts';
import { windsServed } from '../approach/winds-served.ts';
import { roundDegrees } from '../plan/feature.ts';
import type { XY } from '../plan/overlay/arrangement.ts';
import { airWay } from '../wind/air-pools.ts';
import { directionVerdicts, plainWind } from '../wind/direction-verdicts.ts';
import { legalLight } from '../wind/legal-light.ts';
import { poolCells } from '../wind/pooled-scent.ts';
import { seatReach, type ProtectedGround } from '../wind/seat-reach.ts';
import { SECTORS } from '../wind/sectors.ts';
import { partOf, type Work } from '../work.ts';
import type { Answer } from './answers.ts';
import { coldAirAbout, type ColdAirWindow } from './cold-air.ts';
import type { GroundInUse, Inputs, SiteDefinition } from './definition.ts';
import type { Finding } from './finding.ts';
import { finding } from './ground-inputs.ts';
import type { LaneShown, SitTimes, StandLanes, WindLanes } from './lane-answers.ts';
import { BESIDE_METERS, laneScreens } from './lane-screens.ts';
import { BUILDING_METERS, type LaneSite } from './lane-site.ts';
import { protectedGrounds, protectedKinds, type Seats } from './seats.ts';
import { driftRuleOf, driftSettings, gridOf } from './stand-winds.ts';
import { dayPartsOf, lightSettings } from './wind-record.ts';

/** Time to settle before legal light: 20 to 30 min, common practice (trade notes Q25). */
const SETTLE_SECONDS = 25 * 60;
/** A berm of the height that one is drawn with. */
const SCREEN_METERS = 2.7432; // 9 ft
/** What lies round is looked at so far apart, metres. */
const LATTICE_METERS = 16;

/** The lanes of the stand that they are asked for, wind by wind. */
export const standLanes: SiteDefinition = {
  name: 'standLanes',
  per: 'site',
  keep: 2,
  reads: [
    'setting:lanesFor',
    'answer:laneSite',
    'answer:seatsOnGround',
    'answer:sightGround',
    'answer:coldAir',
    'answer:afterStorm',
    ...protectedKinds.map((kind) => `features:${kind}` as const),
    'condition:hourUtc',
    ...driftSettings.map((key) => `setting:${key}` as const),
    ...lightSettings.map((key) => `setting:${key}` as const),
  ],
  *compute(inputs): Work<Answer<StandLanes> | null> {
    const site = inputs.answer('laneSite') as LaneSite | null;
    const seats = inputs.answer('seatsOnGround') as Seats | null;
    const seat = seats?.seats.find(({ stand }) => stand.id === inputs.settings.lanesFor);
    if (!site || !seats || !seat) return null;
    const { stand, at, convergenceDegrees: turn } = seat;
    if (site.access.length === 0) {
      return given({ standId: stand.id, winds: [], out: null }, [finding('note', 'no-access-point', [stand.id])]); // prettier-ignore
    }
    const rule = driftRuleOf(inputs.settings);
    const grounds = protectedGrounds(inputs, seats.frame);
    const around = reachOnLattice(site.ground, grounds, rule.rangeMeters, LATTICE_METERS);
    const verdicts = directionVerdicts(seatReach(at, grounds, rule.rangeMeters), rule, plainWind, turn); // prettier-ignore
    const directions = Array.from({ length: SECTORS }, (_, i) => i).filter(
      (i) => verdicts[i]!.verdict !== 'does-not',
    );
    const access = site.access.map((one) => one.at);
    const job: LaneJob = { ground: site.ground, stand: at, accessPoints: access, way: 'in' };
    const axes = directions.map((i) => gridOf((i * 360) / SECTORS + 180, turn));
    const exposuresOf = (toward: readonly number[]) =>
      scentExposures(around, toward.map((axisDegrees) => ({ axisDegrees, halfAngleDegrees: rule.leastHalfAngleDegrees })), rule.coreHalfAngleDegrees); // prettier-ignore
    const airs = exposuresOf(axes);
    const inShare = airs.length / (airs.length + 1);
    const found = yield* partOf(bestLanes(job, airs, defaultLaneOptions), 0, inShare);
    const evening = seat.slope?.fallsTowardDegrees ?? axes[0] ?? 0;
    const pooled = pooledExposure(inputs, site, at, grounds, rule.rangeMeters);
    const [drifting] = exposuresOf([evening]);
    const outExposure: ExposureAt = (x, y) => Math.max(drifting!(x, y), pooled(x, y));
    const outward = bestLanes({ ...job, way: 'out' }, [outExposure], defaultLaneOptions);
    const [out] = yield* partOf(outward, inShare, 1);
    const { scentedMeters: most, exposedFrom, exposureStepMeters } = defaultLaneOptions;
    const shown = (lane: Lane | null): LaneShown | null => {
      if (!lane) return null;
      const on = windsServed(lane.line, airs, exposedFrom.scent, most, exposureStepMeters);
      const serves = directions.filter((_, k) => on[k]!.isServed);
      return { ...laneShown(lane, site, seats, inputs, true), serves };
    };
    const winds = found.map(({ best, second, noLane }, k): WindLanes => {
      return { direction: directions[k]!, best: shown(best), second: shown(second), noLane };
    });
    const value: StandLanes = {
      standId: stand.id,
      winds,
      out: out?.best ? laneShown(out.best, site, seats, inputs, false) : null,
    };
    return given(value, findingsOf(value, verdicts.length - directions.length));
  },
};

/** 1 where evening air from a walker runs into a pool with protected ground in it, about the stand. */
function pooledExposure(
  inputs: Inputs,
  { ground }: LaneSite,
  at: XY,
  grounds: readonly ProtectedGround[],
  rangeMeters: number,
): ExposureAt {
  const windows = inputs.answer('coldAir') as readonly ColdAirWindow[];
  const about = inputs.answer('sightGround') as GroundInUse | null;
  const window = about && coldAirAbout(windows, about, at, rangeMeters);
  if (!window) return () => 0;
  const cells = poolCells(window.pools, grounds);
  return onLattice(ground, LATTICE_METERS, (place) => {
    const { pool } = airWay(window.pools, place, rangeMeters);
    return pool !== null && cells.has(pool) ? 1 : 0;
  });
}

function laneShown(
  lane: Lane,
  { access, watched }: LaneSite,
  { frame }: Seats,
  { conditions, settings }: Inputs,
  isWayIn: boolean,
): LaneShown {
  const line = lane.line.map(([x, y]): [number, number] => {
    const [lng, lat] = frame.toLngLat(x, y);
    return [roundDegrees(lng), roundDegrees(lat)];
  });
  return {
    line,
    accessId: access[lane.access]!.id,
    lengthMeters: lane.lengthMeters,
    climbMeters: lane.climbMeters,
    seconds: lane.seconds,
    exposed: lane.exposed,
    scentedMeters: lane.scentedMeters,
    screens: laneScreens(lane.line, lane.exposed, watched, SCREEN_METERS),
    serves: [],
    sit: isWayIn ? sitTimes(line[0]!, conditions, settings, lane.seconds) : null,
  };
}

/** The sit of the hour in hand: before the sun's noon the morning's, after it the evening's. */
function sitTimes(
  [lng, lat]: readonly [number, number],
  { hourUtc }: Inputs['conditions'],
  settings: Inputs['settings'],
  walkSeconds: number,
): SitTimes | null {
  const { light, eveningMinutes } = dayPartsOf(settings);
  const now = Date.parse(hourUtc);
  const day = legalLight(lng, lat, now, light);
  if (!day) return null;
  const { noonUtcMilliseconds: noon, fromUtcMilliseconds, sunsetUtcMilliseconds: sunset } = day;
  const part = now < noon ? 'morning' : 'evening';
  const begins = part === 'morning' ? fromUtcMilliseconds : Math.max(noon, sunset - eveningMinutes * 60_000); // prettier-ignore
  return {
    part,
    beginsUtc: new Date(begins).toISOString(),
    leaveTruckUtc: new Date(leaveTruckAt(begins, SETTLE_SECONDS, walkSeconds)).toISOString(),
  };
}

function findingsOf({ standId, winds, out }: StandLanes, doesNot: number): Finding[] {
  const findings: Finding[] = [];
  const without = winds.filter(({ noLane }) => noLane !== null);
  if (winds.length > 0 && without.length === winds.length) {
    findings.push(finding('caution', 'no-lane', [standId], { why: without[0]!.noLane }));
  } else if (without.length > 0) {
    findings.push(
      finding('note', 'no-lane-on-winds', [standId], {
        directions: without.map(({ direction }) => direction).join(' '),
      }),
    );
  }
  if (winds.length === 0 && doesNot > 0) findings.push(finding('note', 'no-wind-for-lanes', [standId])); // prettier-ignore
  if (out && out.scentedMeters > 0) {
    findings.push(finding('note', 'out-gives-away', [standId], { meters: out.scentedMeters }));
  }
  return findings;
}

function given(value: StandLanes, findings: readonly Finding[]): Answer<StandLanes> {
  return {
    value,
    findings,
    basis: {
      method: [
        'Walking time by slope, three fifths of it off the path and three fifths again for dark and quiet; tracks are walked at full speed.',
        'A stretch counts more where scent from it would reach protected ground on that wind, where eyes in plots, bedding areas and corridors see it over ground, berms and standing timber, and where it is wet or steep.',
        'Never through no-go ground, bedding areas, buildings or off the property. A building drawn as a point counts {pointBuildingMeters} to every side, less where an access point is nearer.',
        'To be quiet in the seat 25 min before legal light on a morning, or before the evening’s two hours begin when the hour in hand is past noon by the sun.',
        'A berm that hides a stretch is tried beside the lane, {screenHeightMeters} high, its middle {screenOffMeters} off, against every sight line to a walker.',
        'The second lane shares less than half its length with the first. The way out is for the slope’s evening air, and for the pools that it runs into near the stand.',
      ],
      source:
        'Tobler 1993, NCGIA 93-1 (walking speed); least cost over sixteen steps, straightened. Weights, 25 min to settle: common practice at best.',
      inputs: {
        winds: value.winds.length,
        screenHeightMeters: SCREEN_METERS,
        screenOffMeters: BESIDE_METERS,
        pointBuildingMeters: BUILDING_METERS,
      },
      confidence:
        'A first try for the ground: walk it by day, move what the map does not know, and flag it.',
    },
  };
}
