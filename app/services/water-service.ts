import type { PlanGeometry } from '../../geo/plan/feature.ts';
import { nameAfter, namesIn } from '../../geo/plan/free-name.ts';
import type { Problem } from '../../geo/result.ts';
import type { HelperDrawing } from '../store/shape-state.ts';
import { session } from '../store/session.ts';
import { isLookedAt } from '../words/way-out-words.ts';
import type { Services } from '../page/services.ts';
import type { Door } from '../workers/door.ts';
import type { Requests } from '../workers/messages.ts';
import type { CurrentProject } from './current-project.ts';
import { newFeature } from './plan-service.ts';

type WaterServices = Pick<
  Services,
  'layNotch' | 'pickSpot' | 'pointAtWater' | 'leavePointed' | 'setLookedAt' | 'setNoCulvert'
>;

const pointWords: HelperDrawing = {
  type: 'Point',
  title: 'What drains to a place',
  how: 'Tap the place; by keys, set it under the cross.',
};

/** So far about where a finger or pointer is meant, CSS pixels, and metres at the most. */
const REACH_PIXELS = 12;
const MOST_REACH_METERS = 15;

/**
 * The way out of a low spot, taken into the plan; what drains to a place; and who has looked at a wet
 * place.
 */
export function waterServices(
  plan: CurrentProject,
  door: Door,
  drawShape: (helper: HelperDrawing) => Promise<PlanGeometry | null>,
): WaterServices {
  const ask = async (order: Requests['catchmentAt'][0]) => {
    const { turns } = session.getState();
    const pointed = await door.ask('catchmentAt', order).answer;
    if (session.getState().turns === turns) session.setState({ pointed, pickedSpot: null });
  };
  /** The place that is shown was asked for so; asked again when the water runs otherwise. */
  let order: Requests['catchmentAt'][0] | null = null;
  session.subscribe((now, was) => {
    if (!order || !now.pointed || now.site.flowLines === was.site.flowLines) return;
    if (now.site.flowLines) void ask(order);
  });
  return {
    async pointAtWater() {
      session.setState({ openSection: 'water' });
      const geometry = await drawShape(pointWords);
      if (geometry?.type !== 'Point') return;
      const [lng, lat] = geometry.coordinates;
      const pixel = session.getState().scale?.metersPerPixel ?? 0;
      order = { lng, lat, reachMeters: Math.min(MOST_REACH_METERS, REACH_PIXELS * pixel) };
      await ask(order);
      if (!session.getState().pointed) session.setState({ problem: nothingThere });
    },
    leavePointed: () => session.setState({ pointed: null }),
    layNotch(spotId) {
      const { site, features } = session.getState();
      const notch = site.waysOut?.value.ways.find(({ id }) => id === spotId)?.notch;
      if (!notch) return;
      const id = crypto.randomUUID();
      const coordinates = notch.line.map(([lng, lat]): [number, number] => [lng, lat]);
      const made = newFeature('ditch', { type: 'LineString', coordinates }, id);
      if (!made.ok) {
        session.setState({ problem: made.problem });
        return;
      }
      const ditch = {
        ...made.value,
        name: nameAfter(`Notch out of ${spotId}`, namesIn(features)),
        properties: {
          ...made.value.properties,
          bottomWidthMeters: notch.bottomWidthMeters,
          sideSlopeRun: notch.sideRun,
          depthMeters: notch.maxCutMeters,
          bottomStartMeters: notch.startBottomMeters,
          bottomEndMeters: notch.endBottomMeters,
        },
      };
      // With it in place the water answers say what it does.
      const settings = { waterOn: 'with-the-plan' } as const;
      const done = plan.document.transact({ features: { [id]: ditch }, settings });
      session.setState(done.ok ? { selectedId: id } : { problem: done.problem });
    },
    pickSpot: (pickedSpot) => session.setState({ pickedSpot, pointed: null }),
    setLookedAt: (at, yes) => markPlace(plan, 'lookedAt', at, yes),
    setNoCulvert: (at, yes) => markPlace(plan, 'noCulvertAt', at, yes),
  };
}

const nothingThere: Problem = {
  code: 'place-off-ground',
  what: 'No ground is known there.',
  wayOut: 'Point at a place on the ground that is open.',
};

/** Puts a place on a list of the settings, or takes those near it off. */
function markPlace(
  plan: CurrentProject,
  key: 'lookedAt' | 'noCulvertAt',
  at: readonly [number, number],
  yes: boolean,
): void {
  const others = session.getState().settings[key].filter((one) => !isLookedAt(at, [one]));
  const next = yes ? [...others, [at[0], at[1]] as [number, number]] : others;
  const done = plan.document.transact({ settings: { [key]: next } });
  if (!done.ok) session.setState({ problem: done.problem });
}
