import { nationalImagery } from '../../geo/formats/imagery/national-imagery.ts';
import { wholeOrder, type ImageryLayer, type OfferedImagery } from '../../geo/plan/imagery.ts';
import type { PlanChange } from '../document/plan-document.ts';
import type { Services } from '../page/services.ts';
import { session } from '../store/session.ts';
import { siteBounds } from './bounds.ts';
import type { PlanAtHand } from './current-project.ts';
import type { ImageryTiles } from './imagery-tiles.ts';
import type { Result } from '../../geo/result.ts';

type ImageryServices = Pick<
  Services,
  | 'addImagery'
  | 'addNationalImagery'
  | 'chooseImagery'
  | 'leaveImagery'
  | 'setImagery'
  | 'removeImagery'
  | 'moveLayer'
  | 'retryImagery'
>;

const mostLayers = 12;

/** Online imagery of the user's choice: looked at, taken into the plan, set, ordered, given up. */
export function imageryServices(
  plan: PlanAtHand,
  tiles: Pick<ImageryTiles, 'forgive'>,
): ImageryServices {
  const transact = (change: PlanChange) => {
    const done = plan.document.transact(change);
    if (!done.ok) session.setState({ problem: done.problem });
  };
  const listed = () => session.getState().settings.imagery;

  const take = (offered: OfferedImagery): void => {
    session.setState({ imageryAsking: null });
    if (listed().length >= mostLayers) {
      session.setState({
        problem: {
          code: 'imagery-too-many',
          what: `A plan holds at most ${mostLayers} layers of online imagery.`,
          wayOut: 'Take one out first, under Layers.',
        },
      });
      return;
    }
    const layer = { ...offered, id: crypto.randomUUID(), opacity: 1, shown: true };
    transact({ settings: { imagery: [...listed(), layer] } });
    const { view } = session.getState();
    if (view.base !== 'plan' && view.base !== 'photo') {
      session.setState({ view: { ...view, base: 'plan' } });
    }
  };

  /** Runs a look at an address: progress with a stop, then what came of it. */
  const look = async <T>(
    address: string,
    begin: (signal: AbortSignal) => Promise<Result<T>>,
    end: (found: T) => void,
  ): Promise<void> => {
    stopAsking();
    const stopper = new AbortController();
    const asking = { state: 'reading', address, stop: () => stopper.abort() } as const;
    session.setState({ imageryAsking: asking });
    const isCurrent = () => session.getState().imageryAsking === asking;
    try {
      const found = await begin(stopper.signal);
      if (!isCurrent()) return;
      if (found.ok) end(found.value);
      else {
        const { problem } = found;
        session.setState({ imageryAsking: { state: 'refused', address, problem } });
      }
    } catch (error) {
      if (isCurrent()) session.setState({ imageryAsking: null });
      if (!stopper.signal.aborted) throw error;
    }
  };

  return {
    addImagery(address) {
      void look(
        address,
        async (signal) => (await lookCode()).lookAtImagery(address, siteMiddle(), signal),
        (found) => {
          if (found.kind === 'one') take(found.imagery);
          else {
            const { offer } = found;
            session.setState({ imageryAsking: { state: 'choosing', address, offer } });
          }
        },
      );
    },
    addNationalImagery() {
      if (listed().some((layer) => layer.template === nationalImagery.template)) return;
      take(nationalImagery);
    },
    chooseImagery(key) {
      const { imageryAsking: asking } = session.getState();
      if (asking?.state !== 'choosing') return;
      const chosen = asking.offer.layers.find((layer) => layer.key === key);
      if (!chosen) return;
      void look(
        asking.address,
        async (signal) => (await lookCode()).tryOffered(chosen, siteMiddle(), signal),
        (imagery) => take(imagery),
      );
    },
    leaveImagery() {
      stopAsking();
      session.setState({ imageryAsking: null });
    },
    setImagery(id, change, phase) {
      const imagery = listed().map((layer) =>
        layer.id === id ? ({ ...layer, ...change } satisfies ImageryLayer) : layer,
      );
      if (phase === 'moving') session.setState({ imageryDraft: imagery });
      else {
        transact({ settings: { imagery } });
        session.setState({ imageryDraft: null });
      }
    },
    removeImagery(id) {
      tiles.forgive(id);
      const { layerOrder } = session.getState().settings;
      transact({
        settings: {
          imagery: listed().filter((layer) => layer.id !== id),
          layerOrder: layerOrder.filter((other) => other !== id),
        },
      });
    },
    moveLayer(id, by) {
      const { layerOrder } = session.getState().settings;
      const order = wholeOrder(layerOrder, listed());
      const from = order.indexOf(id);
      const to = from + by;
      if (from < 0 || to < 0 || to >= order.length) return;
      order.splice(to, 0, ...order.splice(from, 1));
      transact({ settings: { layerOrder: order } });
    },
    retryImagery(id) {
      tiles.forgive(id);
      session.setState(({ imageryRounds }) => ({
        imageryRounds: { ...imageryRounds, [id]: (imageryRounds[id] ?? 0) + 1 },
      }));
    },
  };
}

/** Reads capabilities; not needed by a plan that has no online imagery. */
const lookCode = () => import('./imagery-look.ts');

function stopAsking(): void {
  const { imageryAsking: asking } = session.getState();
  if (asking?.state === 'reading') asking.stop();
}

function siteMiddle(): readonly [number, number] | null {
  const bounds = siteBounds(session.getState());
  return bounds && [(bounds[0] + bounds[2]) / 2, (bounds[1] + bounds[3]) / 2];
}
