import { session } from '../store/session.ts';
import { isLookedAt } from '../words/way-out-words.ts';
import type { Services } from '../page/services.ts';
import type { CurrentProject } from './current-project.ts';
import { newFeature } from './plan-service.ts';

/** The way out of a low spot, taken into the plan; and who has looked at a wet place. */
export function waterServices(
  plan: CurrentProject,
): Pick<Services, 'layNotch' | 'pickSpot' | 'setLookedAt' | 'setNoCulvert'> {
  return {
    layNotch(spotId) {
      const { site } = session.getState();
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
        name: `Notch out of ${spotId}`,
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
    pickSpot: (pickedSpot) => session.setState({ pickedSpot }),
    setLookedAt: (at, yes) => markPlace(plan, 'lookedAt', at, yes),
    setNoCulvert: (at, yes) => markPlace(plan, 'noCulvertAt', at, yes),
  };
}

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
