import { answerPlan, type PlanAnswers } from '../geo/answers/answer-plan.ts';
import type { Definition, GroundInUse } from '../geo/answers/definition.ts';
import { definitions } from '../geo/answers/definitions.ts';
import { distanceAndBearing, pointAtBearing } from '../geo/frame/geodesic.ts';
import type { Frame } from '../geo/frame/crs-types.ts';
import { defaultConditions } from '../geo/plan/conditions.ts';
import { roundDegrees, type PlanFeature, type Position } from '../geo/plan/feature.ts';
import { defaultSettings, type Settings } from '../geo/plan/settings.ts';
import type { Grid } from '../geo/raster/grid.ts';
import type { GroundRecord } from '../geo/raster/ground-record.ts';

/** What the checks of the answers share: a ground put to use, small plans, places on the ground. */

export function groundOf(grid: Grid, frame: Frame, said: Partial<GroundRecord> = {}): GroundInUse {
  const { data: _data, ...place } = grid;
  const record: GroundRecord = {
    id: '0'.repeat(64),
    name: 'test ground',
    place,
    bounds: [-180, -90, 180, 90],
    surveyedOn: '2024-03-19',
    clearing: 'before-clearing',
    verticalErrorMeters: 0.1,
    vertical: { unit: 'metre', datum: 'NAVD88', epsg: 5703 },
    sourceCrsName: grid.frame.name,
    sourceFiles: [],
    sourceCellMeters: grid.cellWidth,
    notes: [],
    ...said,
  };
  return { record, grid, frame };
}

export function answersOf(
  features: readonly PlanFeature[],
  ground: GroundInUse | null,
  settings: Partial<Settings> = {},
  asked: readonly Definition[] = quick,
): PlanAnswers {
  const inputs = {
    features,
    settings: { ...defaultSettings, ...settings },
    conditions: defaultConditions,
    rasters: ground ? { ground } : {},
  };
  return answerPlan(inputs, asked);
}

/** All but those that search and try, and what stands on them: nothing here reads them. */
const slow = ['waysOut', 'spotsSure', 'siteFlow', 'spotFlow', 'spotCovers', 'bareFlow'];
const quick = definitions.filter(
  ({ name, reads }) =>
    !slow.includes(name) && !reads.some((read) => slow.includes(read.replace('answer:', ''))),
);

/** Definitions of these answers and of all that they read. */
export function neededFor(...names: readonly string[]): Definition[] {
  const wanted = new Set(names);
  for (const { name, reads } of definitions.toReversed()) {
    if (!wanted.has(name)) continue;
    for (const read of reads)
      if (read.startsWith('answer:')) wanted.add(read.replace('answer:', ''));
  }
  return definitions.filter(({ name }) => wanted.has(name));
}

/** Rings need not repeat their first corner. */
export function plotOf(id: string, rings: readonly (readonly Position[])[]): PlanFeature {
  const coordinates = rings.map((ring) => [...ring, ring[0]!]);
  return feature(id, 'plot', { type: 'Polygon', coordinates }, { weapon: null });
}

export function standOf(id: string, at: Position): PlanFeature {
  return feature(
    id,
    'stand',
    { type: 'Point', coordinates: at },
    { facingDegrees: null, seatHeightMeters: 3, seat: 'ladder-stand', weapon: null },
  );
}

export function bermOf(id: string, line: readonly Position[]): PlanFeature {
  return feature(
    id,
    'berm',
    { type: 'LineString', coordinates: line },
    { section: 'parabola', baseWidthMeters: 7, heightMeters: 2.7, gaps: [], toBurn: false },
  );
}

function feature(
  id: string,
  kind: PlanFeature['kind'],
  geometry: PlanFeature['geometry'],
  properties: object,
): PlanFeature {
  const shell = { id, kind, name: id, geometry, locked: false, hidden: false };
  return { ...shell, properties: properties as PlanFeature['properties'] };
}

/** Metres east and north of a centre, along the geodesic that leaves it at that bearing. */
export function placeFrom(centre: Position, east: number, north: number): Position {
  const bearing = (Math.atan2(east, north) * 180) / Math.PI;
  const [lng, lat] = pointAtBearing(centre, bearing, Math.hypot(east, north));
  return [roundDegrees(lng), roundDegrees(lat)];
}

/** The reverse: metres east and north of the centre. */
export function offsetFrom(centre: Position, at: readonly [number, number]): [number, number] {
  const { distanceMeters, departureDegrees } = distanceAndBearing(centre, at);
  const turn = (departureDegrees * Math.PI) / 180;
  return [distanceMeters * Math.sin(turn), distanceMeters * Math.cos(turn)];
}
