import type { Frame } from '../frame/crs-types.ts';
import { zoneFrame } from '../frame/zone-frame.ts';
import { frameMetersPerGroundMeter } from '../plan/construct/plan-plane.ts';
import { isKind, type PlanFeature } from '../plan/feature.ts';
import type { XY } from '../plan/overlay/arrangement.ts';
import { isInPolygon } from '../plan/point-in-polygon.ts';
import { shapeDistance, type PlaneShape } from '../plan/shape-distance.ts';
import type { ShotRule } from '../plan/shot-rules.ts';
import { shotRing, type KeepClear } from '../sight/shot-ring.ts';
import { shotStretches, type ShotStretch } from '../sight/shot-stretches.ts';
import type { Work } from '../work.ts';
import type { Answer } from './answers.ts';
import type { FeatureDefinition, GroundInUse, Inputs } from './definition.ts';
import type { Finding } from './finding.ts';
import { firstPosition } from './first-position.ts';
import { finding, inFrame } from './ground-inputs.ts';
import type { StandShots } from './shot-answers.ts';
import { COARSE_METERS } from './sight-ground.ts';
import { byId, othersOf, setbacksOf, weaponOf, type Here } from './stand-setbacks.ts';
import { pointsAlong, shotPlaces, soundRings, tractRings, type ShotPlace } from './shot-places.ts'; // prettier-ignore

/** Eye and muzzle over the seat's floor, and the middle of a target over its ground (trade notes Q22). */
export const EYE_OVER_FLOOR_METERS = 1.2;
export const TARGET_METERS = 0.9;
/** Directions asked, every 2 degrees; kept clear of others to either side; outlines read so close. */
const DIRECTIONS = 180;
const MARGIN_DEGREES = 5;
const ALONG_METERS = 4;

/** Which way each stand may shoot, what it stands too near to, and who sits in its arc. */
export const standShots: FeatureDefinition = {
  name: 'standShots',
  per: 'stand',
  unhurried: true,
  reads: [
    'answer:sightGround',
    'features:stand',
    'features:structure',
    'features:property-line',
    'features:no-go',
    'features:plot',
    'setting:shotRules',
    'setting:shotHalfArcDegrees',
    'setting:units',
  ],
  *compute(inputs, feature): Work<Answer<StandShots> | null> {
    if (!isKind(feature, 'stand')) return null;
    const ground = inputs.answer('sightGround') as GroundInUse | null;
    const [lng, lat] = firstPosition(feature);
    const frame = ground?.frame ?? zoneFrame(lng, lat);
    const at = inFrame(frame, [lng, lat]);
    if (!at) return null;
    const here: Here = {
      frame,
      at,
      scale: frameMetersPerGroundMeter(frame, at),
      convergenceDegrees: frame.distortionAt(at[0], at[1]).convergenceDegrees,
    };
    const weapon = weaponOf(feature);
    const rule = inputs.settings.shotRules[weapon];
    const tract = tractRings(inputs, frame);
    const places = shotPlaces(inputs, frame, tract);
    const plots = plotsInRange(inputs, here, rule);
    const stretches = yield* stretchesOf(inputs, feature, here, rule, { tract, places, plots });
    const value: StandShots = {
      weapon,
      weaponIsSet: feature.properties.weapon !== null,
      rangeMeters: rule.rangeMeters,
      stretches,
      setbacks: setbacksOf(inputs, here, rule, places),
      others: othersOf(inputs, { id: feature.id, weapon, facingDegrees: feature.properties.facingDegrees }, here), // prettier-ignore
      knowsTract: tract.length > 0,
      isOverPlots: plots.length > 0,
    };
    return {
      value,
      findings: findingsOf(inputs, feature, here, tract, value),
      basis: {
        method: [
          'Aims at every target in the plots in range (anywhere in range where no plot is), and follows the straight line on to the ground: it must strike earth near enough and inside the property line.',
          'One target without such a backstop blocks its direction; so do other stands, buildings and roads within 5° of it. Bounds are whole degrees, and what is blocked is rounded up.',
          'Trees, brush and heaps are no backstop. A bullet that falls strikes nearer than a straight line, but it can glance off.',
          'Distances to buildings, roads and lines are measured from the stand and rounded down.',
          'Cells finer than {finestCellMeters} are joined to wider ones first.',
        ],
        source:
          'Ranges and the distance off a dwelling: the commonest figures of the trade; the rest common practice, no source. The state’s own rules come first.',
        inputs: {
          rangeMeters: rule.rangeMeters,
          earthWithinMeters: rule.earthWithinMeters,
          othersWithinMeters: rule.othersWithinMeters,
          muzzleMeters: feature.properties.seatHeightMeters + EYE_OVER_FLOOR_METERS,
          targetMeters: TARGET_METERS,
          finestCellMeters: COARSE_METERS,
        },
        confidence:
          'As good as what is drawn: a house, road or stand that is not drawn is not known here. Nothing here says that a shot is safe or lawful.',
      },
    };
  },
};

function plotsInRange(inputs: Inputs, { frame, at, scale }: Here, { rangeMeters }: ShotRule) {
  return inputs.features('plot').flatMap((plot): XY[][] => {
    const rings = soundRings(plot, frame);
    return rings && off(at, { kind: 'area', paths: rings }) <= rangeMeters * scale ? rings : [];
  });
}

function off(at: XY, shape: PlaneShape): number {
  return shapeDistance({ kind: 'point', paths: [[at]] }, shape).meters;
}

interface Round {
  readonly tract: readonly (readonly XY[])[];
  readonly places: readonly ShotPlace[];
  readonly plots: readonly (readonly XY[])[];
}

function* stretchesOf(
  inputs: Inputs,
  stand: PlanFeature<'stand'>,
  { frame, at, scale, convergenceDegrees }: Here,
  rule: ShotRule,
  { tract, places, plots }: Round,
): Work<ShotStretch[] | null> {
  const ground = inputs.answer('sightGround') as GroundInUse | null;
  if (!ground) return null;
  const far = Math.max(rule.earthWithinMeters, rule.rangeMeters) * scale * 2;
  const [x, y] = at;
  const anywhere: XY[] = [[x - far, y - far], [x + far, y - far], [x + far, y + far], [x - far, y + far]]; // prettier-ignore
  const ring = yield* shotRing(ground.grid, {
    stand: at,
    muzzleMeters: stand.properties.seatHeightMeters + EYE_OVER_FLOOR_METERS,
    targetMeters: TARGET_METERS,
    rangeMeters: rule.rangeMeters * scale,
    backstopMeters: rule.earthWithinMeters * scale,
    // Without a property line nobody knows where the tract ends, and that is said.
    tract: tract.length > 0 ? tract : [anywhere],
    targets: plots.length > 0 ? plots : null,
    keepClear: keepClearOf(inputs, stand, frame, at, rule.othersWithinMeters * scale, places),
    directions: DIRECTIONS,
  });
  if (!ring) return null;
  return shotStretches(ring, convergenceDegrees).map((stretch) => ({
    ...stretch,
    blockedFromMeters: stretch.blockedFromMeters && stretch.blockedFromMeters / scale,
    backstopMeters: stretch.backstopMeters && stretch.backstopMeters / scale,
  }));
}

function keepClearOf(
  inputs: Inputs,
  stand: PlanFeature,
  frame: Frame,
  at: XY,
  withinMeters: number,
  places: readonly ShotPlace[],
): KeepClear[] {
  const others = byId(inputs.features('stand')).flatMap((other): KeepClear[] => {
    const there = other.id === stand.id ? null : inFrame(frame, firstPosition(other));
    return there ? [{ id: other.id, points: [there], marginDegrees: MARGIN_DEGREES, withinMeters }] : []; // prettier-ignore
  });
  const built = places
    .filter(({ from }) => from !== 'line')
    .map(({ id, shape }): KeepClear => {
      const points = pointsAlong(shape, ALONG_METERS).filter(
        ([x, y]) => Math.hypot(x - at[0], y - at[1]) <= withinMeters,
      );
      return { id, points, marginDegrees: MARGIN_DEGREES, withinMeters };
    });
  return [...others, ...built].filter(({ points }) => points.length > 0);
}

function findingsOf(
  inputs: Inputs,
  { id }: PlanFeature<'stand'>,
  { frame, at }: Here,
  tract: readonly (readonly XY[])[],
  { others, setbacks, stretches, knowsTract, weaponIsSet }: StandShots,
): Finding[] {
  const findings: Finding[] = [];
  if (knowsTract && !isInPolygon(at, tract)) findings.push(finding('stop', 'stand-off-tract', [id])); // prettier-ignore
  for (const area of inputs.features('no-go')) {
    const rings = soundRings(area, frame);
    if (rings && isInPolygon(at, rings)) findings.push(finding('stop', 'stand-in-no-go', [id, area.id])); // prettier-ignore
  }
  for (const { otherId, way, unitsAway } of others) {
    findings.push(
      finding('stop', 'stand-in-arc', [id, otherId], {
        way,
        unitsAway,
        other: inputs.features('stand').find((one) => one.id === otherId)?.name ?? null,
      }),
    );
  }
  for (const {
    id: from,
    from: sort,
    unitsAway,
    unitsShort,
    requiredMeters,
    awayDegrees,
  } of setbacks) {
    // prettier-ignore
    if (unitsShort === 0) continue;
    const values = { from: sort, unitsAway, unitsShort, wantedMeters: requiredMeters, awayDegrees };
    findings.push(
      sort === 'dwelling'
        ? finding('stop', 'stand-too-near', [id, from], values)
        : finding('caution', 'stand-too-near', [id, from], values),
    );
  }
  if (!knowsTract) findings.push(finding('caution', 'shots-no-line', [id]));
  if (!stretches) findings.push(finding('caution', 'shots-no-ground', [id]));
  else if (!stretches.some(({ state }) => state === 'allowed')) {
    findings.push(finding('caution', 'no-way-to-shoot', [id]));
  }
  if (!weaponIsSet) findings.push(finding('note', 'weapon-not-set', [id]));
  return findings;
}
