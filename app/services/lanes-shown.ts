import type { LaneShown, WindLanes } from '../../geo/answers/lane-answers.ts';
import { lineLength, linePart } from '../../geo/plan/line-geometry.ts';
import type { LaneShape } from '../../layers/plan/lane-layers.ts';
import { localPlane } from '../../layers/plan/local-plane.ts';
import type { Session } from '../store/session.ts';
import { laneLabel } from '../words/lane-words.ts';

/** What the ways in on the map are drawn from. */
export const laneParts: readonly ((state: Session) => unknown)[] = [
  ({ selectedId }) => selectedId,
  ({ site }) => site.standLanes,
  ({ site }) => site.standSeasons,
  ({ conditions }) => conditions.wind.fromDegrees,
  ({ settings }) => settings.units,
];

/** Lanes on one wind, and whether it is the wind under the map. */
export interface WindShown {
  readonly lanes: WindLanes;
  /** Index of 16 of the wind under the map; null where it has no direction. */
  readonly inHand: number | null;
  /** True where the record was asked which wind the stand works on most. */
  readonly isMost: boolean;
}

/**
 * Lanes of the wind under the map; where the stand has none on it, those of the wind that it works on in
 * most hours of the record, without a record of the first that has a way in. Null without lanes.
 */
export function windShown({
  site,
  conditions,
}: Pick<Session, 'site' | 'conditions'>): WindShown | null {
  const found = site.standLanes?.value;
  if (!found || found.winds.length === 0) return null;
  const { fromDegrees } = conditions.wind;
  const inHand = fromDegrees === null ? null : Math.round(fromDegrees / 22.5) % 16;
  const own = found.winds.find(({ direction }) => direction === inHand);
  if (own) return { lanes: own, inHand, isMost: false };
  const season = site.standSeasons?.value.stands[found.standId]?.season;
  const hours = ({ direction }: WindLanes) => {
    const of = season?.directions[direction];
    return of ? of.morning.works + of.evening.works : 0;
  };
  const open = found.winds.filter(({ best }) => best !== null);
  const [first, ...rest] = open.length > 0 ? open : found.winds;
  const lanes = rest.reduce((most, one) => (hours(one) > hours(most) ? one : most), first!);
  return { lanes, inHand, isMost: hours(lanes) > 0 };
}

/**
 * The best and a second way in on the wind shown, and the way out, of the stand that they are asked for;
 * nothing unless that stand is selected: what lies on the map is of what the panel is about.
 */
export function laneShapes(state: Session): LaneShape[] {
  const { selectedId, site, settings } = state;
  const lanes = site.standLanes?.value;
  if (!lanes || selectedId !== lanes.standId) return [];
  const wind = windShown(state)?.lanes;
  const shape = (lane: LaneShown | null | undefined, is: LaneShape['is']): LaneShape[] =>
    lane ? [{ line: lane.line, is, label: laneLabel(lane, is, settings.units), exposed: exposedParts(lane) }] : []; // prettier-ignore
  return [
    ...shape(lanes.out, 'out'),
    ...shape(wind?.second, 'second'),
    ...shape(wind?.best, 'best'),
  ];
}

function exposedParts({ line, exposed, lengthMeters }: LaneShown): LaneShape['exposed'] {
  const plane = localPlane([line[0]![0], line[0]![1]]);
  const flat = line.map(([lng, lat]) => plane.toPlane([lng, lat]));
  const scale = lineLength(flat) / Math.max(1e-9, lengthMeters);
  return exposed
    .filter(({ why }) => why === 'scent' || why === 'seen')
    .map(({ fromMeters, toMeters }) => linePart(flat, fromMeters * scale, toMeters * scale))
    .filter((part) => part.length > 1)
    .map((part) => part.map((at) => plane.toPosition(at)));
}
