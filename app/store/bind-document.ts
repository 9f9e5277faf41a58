import type { OpenPlan } from '../document/start.ts';
import type { PlanSnapshot } from '../document/plan-document.ts';
import type { Problem } from '../../geo/result.ts';
import { setOpenPlan } from './open-plan.ts';
import { keptSelection } from './selection.ts';
import { session } from './session.ts';

/**
 * Mirrors an open plan into the session until the returned function is called. Whatever has not
 * changed keeps its identity, so that a selector of one feature hears only of that feature.
 */
export function bindDocument({
  document,
  watch,
}: Pick<OpenPlan, 'document' | 'watch'>): () => void {
  setOpenPlan(document);
  let heldAside: PlanSnapshot['heldAside'] = [];

  const mirror = (snapshot: PlanSnapshot) => {
    const { features, settings, conditions, grounds, photos } = snapshot;
    const last = session.getState();
    session.setState({
      features,
      settings,
      conditions,
      grounds,
      photos,
      canUndo: document.canUndo,
      canRedo: document.canRedo,
      ...keptSelection(last, features),
      ...(snapshot.heldAside.length > heldAside.length && {
        problem: heldAsideProblem(snapshot.heldAside),
      }),
    });
    heldAside = snapshot.heldAside;
  };

  mirror(document.snapshot);
  const unsubscribe = document.subscribe(mirror);
  const unwatch = watch({
    save: (saved) => session.setState({ saved }),
    problem: (problem) => session.setState({ problem }),
    edits: (edits) => session.setState(({ copy }) => ({ copy: { ...copy, edits } })),
  });
  return () => {
    unsubscribe();
    unwatch();
    setOpenPlan(null);
  };
}

function heldAsideProblem(heldAside: PlanSnapshot['heldAside']): Problem {
  const parts = heldAside.length === 1 ? 'One part' : `${heldAside.length} parts`;
  return {
    code: 'plan-part-held-aside',
    what: `${parts} of the saved plan cannot be read by this version, so it is not shown.`,
    wayOut:
      'Nothing was deleted: reload the page to get the newest Assart, or draw that part again.',
    where: heldAside.map((held) => `${held.map}/${held.key}`).join(', '),
  };
}
