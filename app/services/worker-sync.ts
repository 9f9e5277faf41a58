import type { PlanFeature } from '../../geo/plan/feature.ts';
import type { Problem } from '../../geo/result.ts';
import { session, type Session } from '../store/session.ts';
import type { Door } from '../workers/door.ts';

/**
 * Keeps the ground worker equal to the session: plan and draft, settings, conditions, and which
 * ground and photo are in use. Sends only what changed. Returns how to stop.
 */
export function syncWorker(door: Door, onProblem: (problem: Problem) => void): () => void {
  const sent = new Map<string, PlanFeature>();
  let plan: Pick<Session, 'features' | 'draft'> | null = null;
  let settings: Session['settings'] | null = null;
  let conditions: Session['conditions'] | null = null;
  let groundInUse: object | null = null;
  let surfaceInUse: object | null = null;
  let photoInUse: object | null = null;

  const send = (asked: { answer: Promise<unknown> }) =>
    asked.answer.catch((error: unknown) =>
      onProblem({
        code: 'worker-lost',
        what: error instanceof Error ? error.message : String(error),
        wayOut: 'Reload the page. What you drew is saved.',
      }),
    );

  function sync(state: Session): void {
    if (state.settings !== settings || state.conditions !== conditions) {
      ({ settings, conditions } = state);
      const features = Object.values(withDraft(state));
      sent.clear();
      for (const feature of features) sent.set(feature.id, feature);
      send(door.ask('setPlan', { features, settings, conditions }));
    } else if (plan?.features !== state.features || plan.draft !== state.draft) {
      const changed = changesOf(withDraft(state), sent);
      if (changed) send(door.ask('putFeatures', { features: changed }));
    }
    plan = { features: state.features, draft: state.draft };
    const ground = state.grounds[state.settings.groundId] ?? null;
    if (ground !== groundInUse) {
      groundInUse = ground;
      send(use('useGround', ground));
    }
    const surface = surfaceOf(state);
    if (surface !== surfaceInUse) {
      surfaceInUse = surface;
      send(use('useSurface', surface));
    }
    const photo = state.photos[state.settings.photoId] ?? null;
    if (photo !== photoInUse) {
      photoInUse = photo;
      send(use('usePhoto', photo));
    }
  }

  function use<N extends 'useGround' | 'useSurface' | 'usePhoto'>(
    name: N,
    record: never | object | null,
  ) {
    const asked = door.ask(name, { record } as never);
    return {
      answer: asked.answer.then((done) => {
        const { problem } = done as { problem: Problem | null };
        if (problem) onProblem(problem);
      }),
    };
  }

  sync(session.getState());
  return session.subscribe(sync);
}

/** A ground cannot lie over itself. */
function surfaceOf({ grounds, settings: { groundId, surfaceId } }: Session) {
  return surfaceId === groundId ? null : (grounds[surfaceId] ?? null);
}

/** The plan as it is while a gesture lasts: the draft in place of the committed feature. */
function withDraft({ features, draft }: Session): Readonly<Record<string, PlanFeature>> {
  return draft ? { ...features, [draft.id]: draft } : features;
}

/** What differs from what was sent, null for what is gone; null where nothing does. */
function changesOf(
  features: Readonly<Record<string, PlanFeature>>,
  sent: Map<string, PlanFeature>,
): Record<string, PlanFeature | null> | null {
  const changed: Record<string, PlanFeature | null> = {};
  let count = 0;
  for (const feature of Object.values(features)) {
    if (sent.get(feature.id) === feature) continue;
    changed[feature.id] = feature;
    sent.set(feature.id, feature);
    count++;
  }
  if (sent.size > Object.keys(features).length) {
    for (const id of sent.keys()) {
      if (Object.hasOwn(features, id)) continue;
      changed[id] = null;
      sent.delete(id);
      count++;
    }
  }
  return count > 0 ? changed : null;
}
