import type { LaneShown, WindLanes } from '../../geo/answers/lane-answers.ts';
import { lineLength, linePart } from '../../geo/plan/line-geometry.ts';
import type { LaneShape } from '../../layers/plan/lane-layers.ts';
import { localPlane } from '../../layers/plan/local-plane.ts';
import type { Session } from '../store/session.ts';
import { laneLabel } from '../words/lane-words.ts';

/** What the ways in on the map are drawn from. */
export const laneParts: readonly ((state: Session) => unknown)[] = [
  ({ openSection }) => openSection === 'stands',
  ({ selectedId }) => selectedId,
  ({ site }) => site.standLanes,
  ({ conditions }) => conditions.wind.fromDegrees,
  ({ settings }) => settings.units,
];

/** Lanes of the wind under the map, else of the first wind that has any; null without lanes. */
export function windShown({
  site,
  conditions,
}: Pick<Session, 'site' | 'conditions'>): WindLanes | null {
  const winds = site.standLanes?.value.winds ?? [];
  const { fromDegrees } = conditions.wind;
  const sector = fromDegrees === null ? -1 : Math.round(fromDegrees / 22.5) % 16;
  return winds.find(({ direction }) => direction === sector) ?? winds[0] ?? null;
}

/** The best and a second way in on this wind, and the way out, of the stand that they are asked for. */
export function laneShapes(state: Session): LaneShape[] {
  const { openSection, selectedId, site, settings } = state;
  const lanes = site.standLanes?.value;
  if (!lanes || (openSection !== 'stands' && selectedId !== lanes.standId)) return [];
  const wind = windShown(state);
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
