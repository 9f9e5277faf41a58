import { parseFeature, type PlanFeature, type PlanGeometry } from '../../geo/plan/feature.ts';
import { nameAfter, namesIn, nextName } from '../../geo/plan/free-name.ts';
import type { Result } from '../../geo/result.ts';
import type { BoundsShape, Services } from '../page/services.ts';
import { blankDeed, type DeedDraft } from '../store/deed.ts';
import { selectOnly } from '../store/selection.ts';
import { session } from '../store/session.ts';
import type { HelperDrawing } from '../store/shape-state.ts';
import type { PlanAtHand } from './current-project.ts';
import { takenPlaceOf } from './way-place.ts';
import { newFeature } from './plan-service.ts';
import { outlineProblem } from '../words/outline-words.ts';

type DeskServices = Pick<
  Services,
  | 'openDesk'
  | 'leaveDesk'
  | 'layWay'
  | 'keepLane'
  | 'reshapeByDeed'
  | 'setDeed'
  | 'tapDeedStart'
  | 'tryDeed'
  | 'keepDeed'
>;

const startWords: HelperDrawing = {
  type: 'Point',
  title: 'Point of beginning',
  how: 'Tap where the first course begins; it catches on corners.',
};

/** What stands in front of the page: the table of features, the calls of a deed. */
export function deskServices(
  plan: PlanAtHand,
  drawShape: (helper: HelperDrawing) => Promise<PlanGeometry | null>,
): DeskServices {
  /** Of the outline that is new, the same while its calls are typed. */
  let newId = '';

  const openDeed = (deed: DeedDraft): void => {
    newId = crypto.randomUUID();
    session.setState({ ...selectOnly(null), desk: 'metes', deed, trial: null, sectionPlace: deed.start }); // prettier-ignore
  };

  const setDeed = (change: Partial<DeedDraft>): void => {
    const deed = { ...session.getState().deed, ...change };
    // The point of beginning is marked as a place along a section is.
    session.setState({ deed, sectionPlace: deed.start });
  };

  return {
    openDesk(desk) {
      const { deed } = session.getState();
      if (desk === 'metes') openDeed(deed.of === null ? deed : blankDeed);
      else session.setState({ desk, trial: null });
    },
    reshapeByDeed(id) {
      const { deed, features } = session.getState();
      const feature = features[id];
      if (feature?.geometry.type !== 'Polygon' || feature.locked) return;
      const [start] = feature.geometry.coordinates[0]!;
      openDeed(deed.of === id ? deed : { ...blankDeed, of: id, start: start! });
    },
    keepLane(standId, line) {
      const coordinates = line.map(([lng, lat]): [number, number] => [lng, lat]);
      const made = newFeature('lane', { type: 'LineString', coordinates }, crypto.randomUUID());
      if (!made.ok) return session.setState({ problem: made.problem });
      const { features } = session.getState();
      const stand = features[standId]?.name;
      const lane = {
        ...made.value,
        name: stand ? nameAfter(`Way in to ${stand}`, namesIn(features)) : made.value.name,
        properties: { ...made.value.properties, toStand: standId },
      } as PlanFeature;
      const done = plan.document.transact({ features: { [lane.id]: lane } });
      if (!done.ok) session.setState({ problem: done.problem });
    },
    layWay(placeId, way, takesPlace) {
      const { features, answers } = session.getState();
      const place = features[placeId];
      const laid = answers[placeId]?.clearingWays?.value.ways.find((one) => one.way === way);
      if (!place || !laid) return;
      const gone = takesPlace ? takenPlaceOf(place, features) : [];
      const names = namesIn(Object.values(features).filter((feature) => !gone.includes(feature)));
      const made = laid.features.map((feature) => {
        const name = nextName(feature.name, names);
        names.add(name);
        return { ...feature, name, id: crypto.randomUUID() };
      });
      const done = plan.document.transact({
        features: {
          ...Object.fromEntries(gone.map(({ id }) => [id, null])),
          ...Object.fromEntries(made.map((feature) => [feature.id, feature])),
        },
      });
      if (!done.ok) session.setState({ problem: done.problem });
      else session.setState({ desk: null, ...selectOnly(placeId) });
    },
    leaveDesk: () => session.setState({ desk: null, trial: null, sectionPlace: null }),
    setDeed,
    async tapDeedStart() {
      const geometry = await drawShape(startWords);
      if (geometry?.type !== 'Point' || session.getState().desk !== 'metes') return;
      setDeed({ start: geometry.coordinates });
    },
    tryDeed(shape) {
      if (!shape) return session.setState({ trial: null });
      const made = featureOf(shape, newId);
      const blank = { of: {}, features: {}, sizes: {}, selectAfter: null };
      if (!made.ok) return session.setState({ trial: { ...blank, problem: made.problem } });
      const { id, kind } = made.value;
      session.setState({
        trial: {
          of: {},
          features: { [id]: made.value },
          sizes: { [id]: shape },
          // A line is shown on the way to an outline, and never kept.
          selectAfter: kind === 'property-line' ? id : null,
          problem: null,
        },
      });
    },
    keepDeed() {
      const { trial } = session.getState();
      const id = trial?.selectAfter;
      const feature = id && trial?.features[id];
      if (!trial || !id || !feature) return;
      const done = plan.document.transact({ features: { [id]: feature } });
      if (!done.ok) return session.setState({ problem: done.problem });
      session.setState({
        ...selectOnly(id),
        desk: null,
        deed: blankDeed,
        trial: null,
        sectionPlace: null,
        problem: outlineProblem(feature),
      });
    },
  };
}

/** The outline under the id and name that it will have; the deed is what it is taken from. */
function featureOf({ kind, geometry }: BoundsShape, newId: string): Result<PlanFeature> {
  const { deed, features } = session.getState();
  if (kind !== 'property-line') return parseFeature({ id: newId, kind, name: '', geometry });
  const old = deed.of === null ? undefined : features[deed.of];
  const made =
    old?.locked === false ? ({ ok: true, value: old } as const) : newFeature(kind, geometry, newId);
  if (!made.ok) return made;
  const properties = { ...made.value.properties, basis: 'deed' };
  return parseFeature({ ...made.value, geometry, properties });
}
