import type { StandShots } from '../../geo/answers/shot-answers.ts';
import type { StandShapes } from '../../layers/plan/stand-layers.ts';
import { isPlaceShown } from '../store/shown-place.ts';
import type { Session } from '../store/session.ts';
import { placeName } from '../words/siting-words.ts';
import { blockedLabel, inArcLabel, shortLabel } from '../words/shot-words.ts';

/** What is drawn round stands hangs on these. */
export const standParts: readonly ((state: Session) => unknown)[] = [
  ({ selectedId }) => selectedId,
  ({ selectedId, features }) => features[selectedId ?? ''],
  ({ selectedId, answers }) => answers[selectedId ?? '']?.standShots,
  ({ settings }) => settings.units,
  ({ openSection }) => openSection === 'stands',
  ({ site, settings }) => settings.wantsSiting && site.siting,
  ({ shownPlace }) => shownPlace,
];

/** What bars shots from the stand that is selected; where stands could go while Stands is open. */
export function standShapes(state: Session): StandShapes {
  const { selectedId, features, answers } = state;
  const stand = features[selectedId ?? ''];
  const shots = answers[selectedId ?? '']?.standShots?.value;
  const isShown = stand?.geometry.type === 'Point' && !stand.hidden;
  return { ...(shots && isShown ? shapesOf(state, stand.geometry.coordinates, shots) : none), places: placesOf(state) }; // prettier-ignore
}

function placesOf(state: Session): StandShapes['places'] {
  const { openSection, settings, site, features } = state;
  if (openSection !== 'stands' || !settings.wantsSiting) return [];
  return (site.siting?.value.plots ?? []).flatMap(({ plotId, places }) =>
    places.map(({ at }, i) => ({
      at,
      label: placeName(features[plotId]?.name ?? '', i),
      isShown: isPlaceShown(state, at),
    })),
  );
}

const none = { blocked: [], lines: [] };

function shapesOf(
  { features, settings: { units } }: Session,
  seat: readonly [number, number],
  { stretches, rangeMeters, setbacks, others }: StandShots,
): Pick<StandShapes, 'blocked' | 'lines'> {
  const nameOf = (id: string) => features[id]?.name || 'something unnamed';
  return {
    blocked: (stretches ?? [])
      .filter(({ state }) => state === 'blocked')
      .map((stretch) => ({
        seat,
        fromDegrees: stretch.fromDegrees,
        toDegrees: stretch.toDegrees,
        rangeMeters,
        label: blockedLabel(stretch, nameOf),
      })),
    lines: [
      ...setbacks
        .filter(({ unitsShort }) => unitsShort > 0)
        .map((setback) => ({ line: [seat, setback.at] as const, label: shortLabel(setback, units) })), // prettier-ignore
      ...others.map((other) => ({ line: [seat, other.at] as const, label: inArcLabel(other, nameOf, units) })), // prettier-ignore
    ],
  };
}
