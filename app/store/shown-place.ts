import type { Session } from './session.ts';

/** Whether this is the place that was last asked to be shown on the map. */
export function isPlaceShown(
  { shownPlace }: Pick<Session, 'shownPlace'>,
  [lng, lat]: readonly [number, number],
): boolean {
  return shownPlace !== null && shownPlace[0] === lng && shownPlace[1] === lat;
}
