import type { WaterSource } from '../../layers/water-controls.ts';
import { isOutOfDate, type AnswersNamed } from '../store/left-undone.ts';
import type { Session } from '../store/session.ts';

/** What each layer over the plan is drawn from. */
const drawnFrom: Readonly<Record<WaterSource, AnswersNamed>> = {
  lowSpots: { site: ['lowSpots', 'storm'] },
  flow: { site: ['flowLines', 'spotDetails'] },
  dams: { features: ['damming', 'lettingGaps'] },
  waysIn: { site: ['standLanes'] },
  stands: { site: ['siting'], features: ['standShots'] },
  air: { site: ['standWinds'] },
  pushes: { site: ['clearingWork'], features: ['burning'] },
};

/** What on the map is out of date because the work was stopped, to be drawn pale. */
export function fadedOf(state: Session): WaterSource[] {
  if (state.left === null) return [];
  return (Object.keys(drawnFrom) as WaterSource[]).filter((name) => isOutOfDate(state, drawnFrom[name])); // prettier-ignore
}
