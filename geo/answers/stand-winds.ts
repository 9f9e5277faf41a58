import type { Settings } from '../plan/settings.ts';
import { usualDriftRule, type DriftRule } from '../wind/drift-rule.ts';
import { scentDrift } from '../wind/scent-drift.ts';
import { seatWind, usualExposure } from '../wind/seat-wind.ts';
import { slopeFlow, usualSlopeFlow } from '../wind/slope-flow.ts';
import { sunOnSlope, sunPath } from '../wind/slope-sun.ts';
import { stabilityAt } from '../wind/stability-at.ts';
import { pooledVerdict } from '../wind/pooled-scent.ts';
import { windVerdict, worseOf } from '../wind/wind-verdict.ts';
import type { Answer } from './answers.ts';
import type { Inputs, SiteDefinition } from './definition.ts';
import type { EveningPools, HeldAir } from './evening-pools.ts';
import type { Finding } from './finding.ts';
import { finding } from './ground-inputs.ts';
import type { Seat, SeatReaches, Seats } from './seats.ts';
import type { StandWindNow, StandWinds } from './wind-answers.ts';

/** Settings that the verdict goes by. */
export const driftSettings = [
  'scentRangeMeters',
  'scentLeastHalfAngleDegrees',
  'scentCoreHalfAngleDegrees',
  'scentLocalTurningDegrees',
] as const;

export function driftRuleOf(settings: Settings): DriftRule {
  return {
    ...usualDriftRule,
    rangeMeters: settings.scentRangeMeters,
    leastHalfAngleDegrees: settings.scentLeastHalfAngleDegrees,
    coreHalfAngleDegrees: settings.scentCoreHalfAngleDegrees,
    localTurningDegrees: settings.scentLocalTurningDegrees,
  };
}

/** Every stand on the wind and at the hour under the map, while either is moved. */
export const standWinds: SiteDefinition = {
  name: 'standWinds',
  per: 'site',
  reads: [
    'answer:seatsOnGround',
    'answer:seatReaches',
    'answer:eveningPools',
    'condition:wind',
    'condition:hourUtc',
    'setting:windStations',
    ...driftSettings.map((key) => `setting:${key}` as const),
  ],
  compute(inputs): { done: Answer<StandWinds> | null } {
    const seats = inputs.answer('seatsOnGround') as Seats | null;
    const reaches = inputs.answer('seatReaches') as SeatReaches | null;
    if (!seats || !reaches) return { done: null };
    const pools = inputs.answer('eveningPools') as Answer<EveningPools> | null;
    const rule = driftRuleOf(inputs.settings);
    const stands: Record<string, StandWindNow> = {};
    for (const seat of seats.seats) {
      stands[seat.stand.id] = now(inputs, seats, seat, reaches, pools?.value ?? null, rule);
    }
    return {
      done: {
        value: { stands },
        findings: Object.entries(stands).flatMap(([id, one]) => findingsOf(id, one)),
        basis: {
          method: [
            'Brings the wind down to the seat by height, and in a small opening to a fifth to a half of it.',
            'Takes how steady the air is from the wind and the height of the sun, and from that how wide scent spreads; never under the least half-angle, and wider in light air.',
            'In light air the slope’s own air is added: down after the sun has left the slope, up after it strikes.',
            'Where that air drains down into a hollow or behind a berm it stands there, and scent with it: protected ground in such a pool is reached. Where at least half of the ways down lead there, it does not work; where fewer do, marginal.',
            'Protected ground (plots, bedding areas, corridors) within the core of the drift and in range: it does not work; within its spread: marginal; else it works.',
          ],
          source:
            'Stability: Turner’s method, EPA-454/R-99-005; spread by class: the same. Slope air: NWCG, S-390. The rule’s angles and range: ours, common practice at best, never fact.',
          inputs: {
            rangeMeters: rule.rangeMeters,
            leastHalfAngleDegrees: rule.leastHalfAngleDegrees,
            coreHalfAngleDegrees: rule.coreHalfAngleDegrees,
            localTurningDegrees: rule.localTurningDegrees,
          },
          confidence:
            'Low in light or variable air and in small openings, where the air turns: throw milkweed or powder and believe that.',
        },
      },
    };
  },
};

function now(
  { conditions, settings }: Inputs,
  { frame }: Seats,
  seat: Seat,
  { reaches, openings }: SeatReaches,
  pools: EveningPools | null,
  rule: DriftRule,
): StandWindNow {
  const { stand, at, convergenceDegrees, slope, horizon } = seat;
  const instant = Date.parse(conditions.hourUtc);
  const [longitude, latitude] = frame.toLngLat(at[0], at[1]);
  const { fromDegrees, speedMetersPerSecond } = conditions.wind;
  const stability = stabilityAt({ longitude, latitude }, instant, speedMetersPerSecond);
  const exposure = exposureOf(settings, seat, openings);
  const seatMetersPerSecond = speedMetersPerSecond * exposure.share;
  const path = slope && horizon ? sunPath(longitude, latitude, instant) : null;
  const lit =
    slope && horizon && path ? sunOnSlope(slope, horizon, path, convergenceDegrees) : null;
  const flow =
    slope &&
    slopeFlow(instant, slope, lit, speedMetersPerSecond * exposure.openShare, NaN, usualSlopeFlow);
  const drift = scentDrift(
    {
      fromDegrees: fromDegrees === null ? null : gridOf(fromDegrees, convergenceDegrees),
      speedMetersPerSecond: seatMetersPerSecond,
      stability,
      slopeFlow: flow,
      isSheltered: exposure.isSheltered,
    },
    rule,
  );
  const { verdict, reached, doubts } = windVerdict(reaches.get(stand.id)!, drift, rule);
  const held = flow?.kind === 'down' ? (pools?.stands[stand.id] ?? []) : [];
  return {
    verdict: worseOf(verdict, pooledVerdict(held)),
    reached,
    towardDegrees:
      drift.axisDegrees === null ? null : gridOf(drift.axisDegrees, -convergenceDegrees),
    halfAngleDegrees: drift.halfAngleDegrees,
    reachMeters: drift.reachMeters,
    seatMetersPerSecond,
    stability,
    doubts: held.length > 0 ? [...doubts, 'pooled-air'] : doubts,
    pools: held.map(({ outline: _outline, way: _way, ...one }) => one),
  };
}

/** How the station's wind comes down to a seat. */
function exposureOf(
  settings: Settings,
  { stand }: Seat,
  openings: SeatReaches['openings'],
): Exposure {
  const { seatHeightMeters } = stand.properties;
  return exposureAt(settings, seatHeightMeters, openings.get(stand.id) ?? null);
}

interface Exposure {
  readonly share: number;
  readonly openShare: number;
  readonly isSheltered: boolean;
}

/** The same for a place where no stand is: in tree heights the opening that it is in, null in the open. */
export function exposureAt(
  { windStations }: Settings,
  seatHeightMeters: number,
  openingTreeHeights: number | null,
): Exposure {
  const exposure = {
    ...usualExposure,
    stationHeightMeters: windStations[0]?.mastMeters ?? usualExposure.stationHeightMeters,
    seatHeightMeters: Math.max(0.5, seatHeightMeters),
  };
  const { share, isSheltered } = seatWind({ ...exposure, openingTreeHeights });
  // "Only if wind under 4-5 mph" (trade notes Q24) is said of the wind over the trees.
  const open = seatWind({ ...exposure, openingTreeHeights: null });
  return { share: share.likely, openShare: open.share.likely, isSheltered };
}

/** A grid bearing from a true one; the other way round with the convergence turned. */
export function gridOf(trueDegrees: number, convergence: number): number {
  return (((trueDegrees - convergence) % 360) + 360) % 360;
}

function findingsOf(id: string, { verdict, reached, pools }: StandWindNow): Finding[] {
  const findings = pools.flatMap((pool) => poolFinding(id, pool));
  const nearest = reached[0];
  // Else it is what stands in the pool that makes it no place to sit.
  if (verdict === 'works' || !nearest) return findings;
  const values = { distanceMeters: nearest.meters, share: nearest.share };
  const own =
    verdict === 'does-not'
      ? finding('caution', 'stand-does-not-work', [id, nearest.id], values)
      : finding('note', 'stand-marginal', [id, nearest.id], values);
  return [own, ...findings];
}

function poolFinding(id: string, pool: HeldAir): Finding {
  const { heldBy, grounds, meters, areaSquareMeters, depthMeters } = pool;
  const verdict = pooledVerdict([pool]);
  const level = verdict === 'does-not' ? 'caution' : 'note';
  const about = [id, ...heldBy, ...grounds.map((ground) => ground.id)];
  const values = { verdict, meters, areaSquareMeters, depthMeters, holders: heldBy.length };
  return finding(level, 'evening-air-pools', about, values);
}
