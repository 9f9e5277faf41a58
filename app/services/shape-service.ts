import type { PlanGeometry } from '../../geo/plan/feature.ts';
import { namesIn } from '../../geo/plan/free-name.ts';
import type { Services } from '../page/services.ts';
import type { HelperDrawing, Trial } from '../store/shape-state.ts';
import { selectedFeatures, selectedIds } from '../store/selection.ts';
import { session, type Session } from '../store/session.ts';
import { cutWords } from '../words/shape-changes.ts';
import type { Construction } from '../workers/construct.ts';
import { StoppedError, type Door } from '../workers/door.ts';
import type { PlanAtHand } from './current-project.ts';
import { trialOf, type Becoming } from './trial-of.ts';

type ShapeServices = Pick<
  Services,
  'tryShape' | 'drawCut' | 'keepTrial' | 'dropTrial' | 'duplicateFeature'
>;

/** A change of shape that is wished for: what to make, and what becomes of it. */
export interface ShapeWish {
  readonly construction: Construction;
  readonly becoming: Becoming;
}

/** A copy lies this far from the first one, so that both are seen: 30 ft. */
const copyStepMeters = 9.144;

/** Shapes made of the selected ones: tried on the map first, then kept as one undo step. */
export function shapeServices(
  plan: PlanAtHand,
  door: Door,
  drawShape: (helper: HelperDrawing) => Promise<PlanGeometry | null>,
): ShapeServices {
  /** The trial being worked out; a later wish takes its place. */
  let asked: { stop(): void; ready: Promise<void> } | null = null;
  const newId = () => crypto.randomUUID();

  const wish = ({ construction, becoming }: ShapeWish): void => {
    asked?.stop();
    const sources = selectedFeatures(session.getState());
    if (sources.length === 0) return;
    const geometries = sources.map(({ geometry }) => geometry);
    const { answer, stop } = door.ask('construct', { construction, geometries });
    const ready = answer
      .then((made) => {
        const names = namesIn(session.getState().features);
        const trial = trialOf(sources, made, becoming, { names, newId });
        if (holds(trial, session.getState())) session.setState({ trial });
      })
      .catch(sayUnlessStopped);
    const mine = { stop, ready };
    asked = mine;
    void ready.then(() => {
      if (asked === mine) asked = null;
    });
  };

  const drop = (): void => {
    asked?.stop();
    asked = null;
    if (session.getState().trial) session.setState({ trial: null });
  };

  session.subscribe((now) => {
    if (now.trial && !holds(now.trial, now)) session.setState({ trial: null });
  });

  return {
    tryShape: wish,
    dropTrial: drop,
    async keepTrial() {
      await asked?.ready;
      const { trial } = session.getState();
      if (!trial || trial.problem) return;
      session.setState({ trial: null });
      const done = plan.document.transact({ features: trial.features });
      if (!done.ok) session.setState({ problem: done.problem });
      else if (trial.selectAfter) session.setState({ selectedId: trial.selectAfter });
    },
    async drawCut(by) {
      const [feature] = selectedFeatures(session.getState());
      if (feature?.geometry.type !== 'Polygon' || feature.locked) return;
      const { id } = feature;
      const drawn = drawShape(cutWords[by]);
      drop();
      const geometry = await drawn;
      if (!geometry || session.getState().selectedId !== id) return;
      const construction = cutWith(geometry);
      if (construction) wish({ construction, becoming: { into: 'itself' } });
    },
    duplicateFeature(id) {
      const { features } = session.getState();
      const feature = features[id];
      if (!feature) return;
      const order = { feature, id: newId(), names: [...namesIn(features)] };
      door
        .ask('duplicate', { ...order, stepMeters: copyStepMeters })
        .answer.then((twin) => {
          const done = plan.document.transact({ features: { [twin.id]: twin } });
          session.setState(done.ok ? { selectedId: twin.id } : { problem: done.problem });
        })
        .catch(sayUnlessStopped);
    },
  };
}

function cutWith(geometry: PlanGeometry): Construction | null {
  if (geometry.type === 'LineString') return { make: 'split', line: geometry };
  return geometry.type === 'Polygon' ? { make: 'hole', hole: geometry } : null;
}

/** A trial holds while what it was made of is as it was and still selected. */
function holds({ of }: Trial, state: Session): boolean {
  const ids = selectedIds(state);
  return Object.entries(of).every(
    ([id, feature]) => state.features[id] === feature && ids.includes(id),
  );
}

function sayUnlessStopped(error: unknown): void {
  if (error instanceof StoppedError) return;
  session.setState({
    problem: {
      code: 'shape-failed',
      what: `The shape could not be made: ${error instanceof Error ? error.message : String(error)}.`,
      wayOut: 'The plan is as it was. Try another number.',
    },
  });
}
