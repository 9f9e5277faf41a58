import { parseFeature, type PlanFeature, type PlanGeometry } from '../../geo/plan/feature.ts';
import { namesIn, nextName } from '../../geo/plan/free-name.ts';
import type { Kind } from '../../geo/plan/kinds.ts';
import type { Result } from '../../geo/result.ts';
import type { PlanChange } from '../document/plan-document.ts';
import type { Services } from '../page/services.ts';
import { session } from '../store/session.ts';
import { firstProperties } from '../words/draw-tools.ts';
import { kindWords } from '../words/kind-words.ts';
import { nothingToMend, sliverNotice } from '../words/outline-words.ts';
import type { Door } from '../workers/door.ts';
import type { PlanAtHand } from './current-project.ts';
import { partsOf } from './parts-of.ts';

type PlanServices = Pick<
  Services,
  | 'renameFeature'
  | 'deleteFeature'
  | 'setProperty'
  | 'setProperties'
  | 'repairOutline'
  | 'undo'
  | 'redo'
  | 'setSetting'
  | 'setSettings'
  | 'setConditions'
  | 'saveAgain'
>;

/** Everything that changes the plan besides drawing; each call is one undo step. */
export function planServices(plan: PlanAtHand, door: Door): PlanServices {
  const transact = (change: PlanChange) => {
    const done = plan.document.transact(change);
    if (!done.ok) session.setState({ problem: done.problem });
  };
  const change = (id: string, next: (feature: PlanFeature) => unknown) => {
    const feature = session.getState().features[id];
    if (!feature) return;
    const parsed = parseFeature(next(feature));
    if (parsed.ok) transact({ features: { [id]: parsed.value } });
    else session.setState({ problem: parsed.problem });
  };

  return {
    renameFeature: (id, name) => change(id, (feature) => ({ ...feature, name })),
    deleteFeature: (id) => transact({ features: { [id]: null } }),
    setProperty(id, key, value) {
      change(id, (feature) => ({
        ...feature,
        properties: { ...feature.properties, [key]: value },
      }));
      // What it was asked for is answered.
      if (session.getState().askedId === id) session.setState({ askedId: null });
    },
    setProperties(id, values) {
      change(id, (feature) => ({
        ...feature,
        properties: { ...feature.properties, ...values },
      }));
    },
    repairOutline(id) {
      const { problem: shown, features, settings } = session.getState();
      const feature = features[id ?? shown?.where ?? ''];
      if (feature?.geometry.type !== 'Polygon') return;
      const rings = feature.geometry.coordinates;
      void door.ask('repairOutline', { rings }).answer.then((mended) => {
        const { parts } = mended;
        if (parts.length === 0) {
          session.setState({ problem: nothingToMend(feature) });
          return;
        }
        if (session.getState().problem?.where === feature.id) session.setState({ problem: null });
        if (mended.slivers > 0) {
          session.setState({ notice: sliverNotice(feature.name, mended, settings.units) });
        }
        const geometries = parts.map((coordinates) => ({ type: 'Polygon', coordinates }) as const);
        const names = namesIn(session.getState().features);
        const made = partsOf(feature, geometries, names, () => crypto.randomUUID());
        transact({ features: Object.fromEntries(made.map((part) => [part.id, part])) });
      });
    },
    undo: () => void plan.document.undo(),
    redo: () => void plan.document.redo(),
    setSetting: (key, value) => transact({ settings: { [key]: value } }),
    setSettings: (values) => transact({ settings: values }),
    setConditions(part, phase) {
      const conditions = { ...session.getState().conditions, ...part };
      if (phase === 'moving') session.setState({ conditions });
      else {
        const done = plan.document.setConditions(conditions);
        if (!done.ok) session.setState({ problem: done.problem });
      }
    },
    saveAgain: () => void plan.provider.flush(),
  };
}

/** A feature newly drawn, with the defaults of its kind and the next free name: "Plot 3". */
export function newFeature(kind: Kind, geometry: PlanGeometry, id: string): Result<PlanFeature> {
  const names = namesIn(session.getState().features);
  const properties = firstProperties[kind];
  return parseFeature({
    id,
    kind,
    name: nextName(`${kindWords[kind].one} 1`, names),
    geometry,
    ...(properties && { properties }),
  });
}
