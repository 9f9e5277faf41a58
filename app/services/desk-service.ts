import type { PlanGeometry } from '../../geo/plan/feature.ts';
import type { Services } from '../page/services.ts';
import type { HelperDrawing } from '../store/shape-state.ts';
import { session } from '../store/session.ts';
import { newFeature } from './plan-service.ts';

type DeskServices = Pick<
  Services,
  'openDesk' | 'leaveDesk' | 'tapBoundsStart' | 'setBoundsStart' | 'tryBounds'
>;

const startWords: HelperDrawing = {
  type: 'Point',
  title: 'First corner',
  how: 'Tap where the first course begins.',
};

/** What stands in front of the page: the table of features, the courses of a deed. */
export function deskServices(
  drawShape: (helper: HelperDrawing) => Promise<PlanGeometry | null>,
): DeskServices {
  return {
    openDesk: (desk) => session.setState({ desk, boundsStart: null, trial: null }),
    leaveDesk: () => session.setState({ desk: null, boundsStart: null, trial: null }),
    async tapBoundsStart() {
      const geometry = await drawShape(startWords);
      if (geometry?.type === 'Point' && session.getState().desk === 'metes') {
        session.setState({ boundsStart: geometry.coordinates });
      }
    },
    setBoundsStart: (start) => session.setState({ boundsStart: start }),
    tryBounds(shape) {
      if (!shape) return session.setState({ trial: null });
      const { kind, geometry, areaSquareMeters, lengthMeters, corners } = shape;
      const made = newFeature(kind, geometry, crypto.randomUUID());
      const blank = { of: {}, features: {}, sizes: {}, selectAfter: null };
      if (!made.ok) return session.setState({ trial: { ...blank, problem: made.problem } });
      const { id } = made.value;
      session.setState({
        trial: {
          of: {},
          features: { [id]: made.value },
          sizes: { [id]: { areaSquareMeters, lengthMeters, corners } },
          selectAfter: id,
          problem: null,
        },
      });
    },
  };
}
