import { laneParts, laneShapes } from './lanes-shown.ts';
import { airParts, airShapes } from './air-shown.ts';
import type { LowSpot } from '../../geo/answers/answers.ts';
import { wholeOrder } from '../../geo/plan/imagery.ts';
import type { MapController } from '../../layers/map-controller.ts';
import type { FlowShapes } from '../../layers/plan/flow-layers.ts';
import type { Bounds } from '../../layers/raster-layers.ts';
import type { TileKind } from '../../layers/tiles/tile-kind.ts';
import { previewMarks } from '../store/bring-in.ts';
import { session, type Session } from '../store/session.ts';
import { depthQuantity, spoken } from '../words/format.ts';
import { standsFor } from '../words/water-words.ts';
import { damShapes, isDamsChanged } from './dams-shown.ts';
import { fadedOf } from './faded-shown.ts';
import { pushParts, pushShapes } from './push-shown.ts';
import { standParts, standShapes } from './stands-shown.ts';
import { isPlanChanged, planViewOf } from './plan-view.ts';

/** Tells the map what the session shows, now and at every change. */
export function showSession(
  map: MapController,
  versions: ReadonlyMap<TileKind, string>,
): () => void {
  let last: Session | null = null;
  const show = (state: Session) => {
    const was = last;
    last = state;
    if (isPlanChanged(was, state)) map.setPlan(planViewOf(state));
    if (was?.view !== state.view) map.setBase(state.view);
    if (was?.snapping !== state.snapping) map.setSnapping(state.snapping);
    if (was?.cross !== state.cross) map.setCross(state.cross);
    const frame = frameOf(state);
    if (!was || frameOf(was) !== frame) map.setFrame(frame);
    const { imagery, layerOrder } = state.settings;
    const { imagery: wasImagery, layerOrder: wasOrder } = was?.settings ?? {};
    if (
      wasImagery !== imagery ||
      wasOrder !== layerOrder ||
      was?.imageryDraft !== state.imageryDraft ||
      was?.imageryRounds !== state.imageryRounds
    ) {
      const layers = state.imageryDraft ?? imagery;
      const order = wholeOrder(layerOrder, layers);
      map.setImagery({ layers, order, rounds: state.imageryRounds });
    }
    if (was?.bringing !== state.bringing) {
      map.setPreview(state.bringing && previewMarks(state.bringing));
    }
    if (was?.sectionPlace !== state.sectionPlace) map.setSectionMarker(state.sectionPlace);
    if (was?.site.lowSpots !== state.site.lowSpots || was?.site.storm !== state.site.storm)
      map.setLowSpots(lowSpotShapes(state));
    if (!was || flowParts.some((part) => part(was) !== part(state))) map.setFlow(flowShapes(state));
    if (!was || isDamsChanged(was, state)) map.setDams(damShapes(state));
    if (!was || laneParts.some((part) => part(was) !== part(state)))
      map.setWaysIn(laneShapes(state));
    if (!was || airParts.some((part) => part(was) !== part(state))) map.setAir(airShapes(state));
    if (!was || standParts.some((part) => part(was) !== part(state)))
      map.setStands(standShapes(state));
    if (!was || pushParts.some((part) => part(was) !== part(state)))
      map.setPushes(pushShapes(state));
    if (was?.left !== state.left) map.setFaded(fadedOf(state));
    if (was && was.selectedId !== state.selectedId) map.keepClear(seatOf(state));
    if (was && was.editingId !== null && was.features !== state.features) keepInHand(map, state);
    if (
      was?.settings.groundId !== state.settings.groundId ||
      was.settings.photoId !== state.settings.photoId
    ) {
      showRasters(map, state, versions, [...versions.keys()]);
      const ground = state.grounds[state.settings.groundId];
      if (ground && was && was.settings.groundId !== state.settings.groundId) {
        map.fitTo(ground.bounds, { animate: false });
      }
    }
  };
  show(session.getState());
  return session.subscribe(show);
}

/** A point that is selected: a panel that opens for it may not lie over it. */
function seatOf({ selectedId, features }: Session): readonly [number, number] | null {
  const geometry = features[selectedId ?? '']?.geometry;
  return geometry?.type === 'Point' ? [geometry.coordinates[0], geometry.coordinates[1]] : null;
}

/** The frame of the ground in use, in which shapes are made. */
function frameOf({ grounds, settings }: Session) {
  return grounds[settings.groundId]?.place.frame ?? null;
}

/** After an undo the drawing tool takes the shape that the plan has now. */
function keepInHand(map: MapController, { editingId, features, draft }: Session): void {
  if (editingId === null || draft) return;
  const feature = features[editingId];
  if (feature) map.startEditing(feature);
  else {
    map.stopDrawing();
    session.setState({ editingId: null });
  }
}

export function showRasters(
  map: MapController,
  { grounds, photos, settings }: Session,
  versions: ReadonlyMap<TileKind, string>,
  kinds: readonly TileKind[],
): void {
  const ground = grounds[settings.groundId];
  const photo = photos[settings.photoId];
  const groundBounds = ground?.bounds ?? null;
  for (const kind of kinds) {
    const bounds: Bounds | null = kind === 'photo' ? (photo?.bounds ?? null) : groundBounds;
    const version = versions.get(kind);
    map.setRaster(kind, bounds && version ? { version, bounds } : null);
  }
}

/** What the flow on the map is drawn from. */
const flowParts: readonly ((state: Session) => unknown)[] = [
  ({ openSection }) => openSection === 'water',
  ({ pickedSpot }) => pickedSpot,
  ({ site }) => site.flowLines,
  ({ site }) => site.spotDetails,
  ({ pointed }) => pointed,
];

/** Flow lines while Water is open, and what drains into the low spot that is looked at. */
function flowShapes({ openSection, pickedSpot, pointed, site }: Session): FlowShapes {
  const isOpen = openSection === 'water';
  const picked = isOpen ? pickedSpot : null;
  const shownPlace = isOpen ? pointed : null;
  const spot = site.spotDetails?.value.spots.find(({ id }) => id === picked);
  return {
    lines: isOpen ? (site.flowLines?.value.lines ?? []) : [],
    catchment: spot?.catchment ?? shownPlace?.outline ?? [],
    ringAt: spot?.spillsAt ?? shownPlace?.at ?? null,
  };
}

/** What the storm leaves standing; the low spots brim full until that is known. */
function lowSpotShapes({ site, settings }: Session) {
  const error = site.ground?.value.survey.verticalErrorMeters ?? null;
  const depth = (meters: number) => spoken(depthQuantity(meters, error, settings.units));
  const storm = site.storm?.value;
  if (storm) {
    return storm.pools
      .filter((pool) => storm.outlines[pool.id] !== undefined)
      .map((pool) => ({
        id: pool.id,
        polygons: storm.outlines[pool.id]!,
        maxDepthMeters: pool.maxDepthMeters,
        hoursStanding: pool.hoursToDry ?? Infinity,
        labelAt: pool.deepestAt,
        label: `${pool.id} ${depth(pool.maxDepthMeters)}, ${standsFor(pool.hoursToDry)}`,
      }));
  }
  const answer = site.lowSpots?.value;
  if (!answer) return [];
  return answer.lowSpots.map((spot: LowSpot) => ({
    id: spot.id,
    polygons: answer.outlines[spot.id] ?? [],
    maxDepthMeters: spot.maxDepthMeters,
    hoursStanding: 0,
    labelAt: spot.deepestAt,
    label: `${spot.id} ${depth(spot.maxDepthMeters)}`,
  }));
}
