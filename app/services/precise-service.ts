import type { MapController, MapEvents } from '../../layers/map-controller.ts';
import type { Services } from '../page/services.ts';
import { session } from '../store/session.ts';
import { aimLines, caughtText } from '../words/aim-words.ts';

type PreciseServices = Pick<
  Services,
  | 'setSnapping'
  | 'setCross'
  | 'placeAtCross'
  | 'placeLeg'
  | 'stepCorner'
  | 'addCorner'
  | 'dropCorner'
>;

/** Drawing to the foot and without a pointer: what the map says of its aim, and what it is told. */
export function preciseServices(map: () => MapController | null): {
  readonly services: PreciseServices;
  readonly events: Required<Pick<MapEvents, 'onAim' | 'onPlaced'>>;
  readonly aimWords: (aimed: Parameters<typeof aimLines>[0]) => readonly string[];
} {
  return {
    services: {
      setSnapping: (on) => session.setState({ snapping: on }),
      setCross: (on) => session.setState({ cross: on }),
      placeAtCross() {
        if (map()?.placeAtCross()) return;
        // The first press shows where the point would go; the next one sets it.
        session.setState({ cross: true });
      },
      placeLeg: ({ lengthMeters, bearingDegrees }) =>
        void map()?.placeLeg(lengthMeters, bearingDegrees),
      stepCorner: (by) => map()?.stepCorner(by),
      addCorner: () => void map()?.addCorner(),
      dropCorner: () => void map()?.deleteChosenCorner(),
    },
    events: {
      onAim(aimed) {
        const { features } = session.getState();
        session.setState({
          leg: aimed?.leg ?? null,
          caught: aimed?.caught ? caughtText(aimed.caught, features) : null,
        });
      },
      onPlaced(count) {
        if (session.getState().placed !== count) session.setState({ placed: count });
      },
    },
    aimWords(aimed) {
      const { features, settings } = session.getState();
      return aimLines(aimed, features, settings.units);
    },
  };
}
