import type { Settings } from '../plan/settings.ts';
import { usualDriftRule, type DriftRule } from '../wind/drift-rule.ts';
import { scentDrift } from '../wind/scent-drift.ts';
import { seatWind, usualExposure } from '../wind/seat-wind.ts';
import { slopeFlow, usualSlopeFlow } from '../wind/slope-flow.ts';
import { sunOnSlope, sunPath } from '../wind/slope-sun.ts';
import { stabilityAt } from '../wind/stability-at.ts';
import { windVerdict } from '../wind/wind-verdict.ts';
import type { Answer } from './answers.ts';
import type { Inputs, SiteDefinition } from './definition.ts';
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
    'condition:wind',
    'condition:hourUtc',
    'setting:windStations',
    ...driftSettings.map((key) => `setting:${key}` as const),
  ],
  compute(inputs): { done: Answer<StandWinds> | null } {
    const seats = inputs.answer('seatsOnGround') as Seats | null;
    const reaches = inputs.answer('seatReaches') as SeatReaches | null;
    if (!seats || !reaches) return { done: null };
    const rule = driftRuleOf(inputs.settings);
    const stands: Record<string, StandWindNow> = {};
    for (const seat of seats.seats) {
      stands[seat.stand.id] = now(inputs, seats, seat, reaches, rule);
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
  return {
    verdict,
    reached,
    towardDegrees:
      drift.axisDegrees === null ? null : gridOf(drift.axisDegrees, -convergenceDegrees),
    halfAngleDegrees: drift.halfAngleDegrees,
    reachMeters: drift.reachMeters,
    seatMetersPerSecond,
    stability,
    doubts,
  };
}

/** How the station's wind comes down to a seat. */
export function exposureOf(
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

function findingsOf(id: string, { verdict, reached }: StandWindNow): Finding[] {
  if (verdict === 'works') return [];
  const nearest = reached[0];
  const about = nearest ? [id, nearest.id] : [id];
  const values = { distanceMeters: nearest?.meters ?? null, share: nearest?.share ?? null };
  return verdict === 'does-not'
    ? [finding('caution', 'stand-does-not-work', about, values)]
    : [finding('note', 'stand-marginal', about, values)];
}
