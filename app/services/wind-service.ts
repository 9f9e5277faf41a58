import type { WindChoices } from '../../geo/formats/wind/wind-opening.ts';
import { isKind } from '../../geo/plan/feature.ts';
import { namesIn, nextName } from '../../geo/plan/free-name.ts';
import type { Services } from '../page/services.ts';
import { session } from '../store/session.ts';
import type { Asked, Door } from '../workers/door.ts';
import type { KeptStation, WindOpening } from '../workers/messages.ts';
import { newFeature } from './plan-service.ts';
import type { PlanAtHand } from './current-project.ts';

type WindServices = Pick<Services, 'openWind' | 'answerWind' | 'leaveWind' | 'layStand'>;

/** As many stations as a plan keeps side by side. */
const MOST_STATIONS = 6;

/** Records of wind, read in the worker and kept in the plan. */
export function windServices(plan: PlanAtHand, door: Door): WindServices {
  let asked: Asked<WindOpening> | null = null;

  function read(file: File, choices: WindChoices): void {
    asked?.stop();
    session.setState({ windOpening: { file, choices, asked: null, share: 0 } });
    const mine = door.ask('openWind', { file, choices }, (share) => {
      const { windOpening } = session.getState();
      if (windOpening?.file === file) session.setState({ windOpening: { ...windOpening, share } });
    });
    asked = mine;
    mine.answer.then(
      (opening) => {
        if (asked !== mine) return;
        if (opening.kind === 'ask') {
          session.setState({ windOpening: { file, choices, asked: opening, share: null } });
          return;
        }
        session.setState({ windOpening: null });
        if (opening.kind === 'refused') session.setState({ problem: opening.problem });
        else keep(opening.stations);
      },
      () => {
        if (asked === mine) session.setState({ windOpening: null });
      },
    );
  }

  function keep(stations: readonly KeptStation[]): void {
    const before = session.getState().settings.windStations;
    const ids = new Set(stations.map(({ id }) => id));
    const all = [...stations, ...before.filter(({ id }) => !ids.has(id))];
    const done = plan.document.transact({
      settings: { windStations: all.slice(0, MOST_STATIONS) },
    });
    if (!done.ok) session.setState({ problem: done.problem });
  }

  return {
    openWind: (file) => read(file, {}),
    answerWind(choices) {
      const { windOpening } = session.getState();
      if (windOpening) read(windOpening.file, { ...windOpening.choices, ...choices });
    },
    layStand(plotId, { at, facingDegrees }) {
      const { features } = session.getState();
      const plot = features[plotId];
      const weapon = plot && isKind(plot, 'plot') ? plot.properties.weapon : null;
      const id = crypto.randomUUID();
      const made = newFeature('stand', { type: 'Point', coordinates: [at[0], at[1]] }, id);
      if (!made.ok) return session.setState({ problem: made.problem });
      const properties = {
        ...made.value.properties,
        facingDegrees,
        weapon,
      };
      const name = nextName(plot?.name ? `${plot.name} stand` : 'Stand', namesIn(features));
      const stand = { ...made.value, name, properties };
      const done = plan.document.transact({ features: { [id]: stand } });
      session.setState(done.ok ? { selectedId: id } : { problem: done.problem });
    },
    leaveWind() {
      asked?.stop();
      asked = null;
      session.setState({ windOpening: null });
    },
  };
}
