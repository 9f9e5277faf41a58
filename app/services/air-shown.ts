import type { AirShape } from '../../layers/plan/air-layers.ts';
import type { Session } from '../store/session.ts';

/** What the air on the map is drawn from. */
export const airParts: readonly ((state: Session) => unknown)[] = [
  ({ openSection }) => openSection === 'stands',
  ({ selectedId, features }) => (features[selectedId ?? '']?.kind === 'stand' ? selectedId : null),
  ({ site }) => site.standWinds,
  ({ site }) => site.eveningPools,
];

/** The air that leaves the stand that is selected and where it stands, or of every stand while Stands is open. */
export function airShapes({ openSection, selectedId, features, site }: Session): AirShape[] {
  const stands = site.standWinds?.value.stands ?? {};
  const chosen = features[selectedId ?? '']?.kind === 'stand' ? selectedId : null;
  return Object.entries(stands).flatMap(([id, now]): AirShape[] => {
    const isShown = chosen ? id === chosen : openSection === 'stands';
    const geometry = features[id]?.geometry;
    if (!isShown || geometry?.type !== 'Point' || features[id]!.hidden) return [];
    const { towardDegrees, halfAngleDegrees, reachMeters } = now;
    // Only while air drains.
    const pools = now.pools.length > 0 ? (site.eveningPools?.value.stands[id] ?? []) : [];
    return [{ seat: geometry.coordinates, towardDegrees, halfAngleDegrees, reachMeters, pools }];
  });
}
