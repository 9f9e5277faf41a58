import type { Frame } from '../frame/crs-types.ts';
import { isKind, type PlanFeature } from '../plan/feature.ts';
import { findOutlineFault } from '../plan/outline-faults.ts';
import type { XY } from '../plan/overlay/arrangement.ts';
import { overlay } from '../plan/overlay/overlay.ts';
import type { PlaneShape } from '../plan/shape-distance.ts';
import type { ShotRule } from '../plan/shot-rules.ts';
import type { Inputs } from './definition.ts';
import { inFrame, ringsInFrame } from './ground-inputs.ts';
import type { SetbackFrom } from './shot-answers.ts';

/** What is drawn that a shot or a seat must keep away from, in frame metres. */

export interface ShotPlace {
  readonly id: string;
  readonly from: SetbackFrom;
  readonly shape: PlaneShape;
}

/** Rings of the ground that the property lines enclose together; none where none is drawn. */
export function tractRings(inputs: Inputs, frame: Frame): XY[][] {
  const layers = inputs.features('property-line').flatMap((line) => {
    const rings = soundRings(line, frame);
    return rings ? [{ rings, rule: 'even-odd' as const }] : [];
  });
  if (layers.length === 0) return [];
  return overlay(layers, (inside) => inside.some(Boolean)).flat() as XY[][];
}

/** Buildings, roads, the line round the tract and ground that is a neighbour's. */
export function shotPlaces(
  inputs: Inputs,
  frame: Frame,
  tract: readonly (readonly XY[])[],
): ShotPlace[] {
  const drawn = [...inputs.features('structure'), ...inputs.features('no-go')].flatMap(
    (feature): ShotPlace[] => {
      const from = sortOf(feature);
      const shape = from && shapeOf(feature, frame);
      return from && shape ? [{ id: feature.id, from, shape }] : [];
    },
  );
  const line = inputs.features('property-line')[0];
  if (!line || tract.length === 0) return drawn;
  // Closed: the distance to a line is asked, also from within.
  const paths = tract.map((ring) => [...ring, ring[0]!]);
  return [...drawn, { id: line.id, from: 'line', shape: { kind: 'line', paths } }];
}

export function requiredOf(rule: ShotRule, from: SetbackFrom): number {
  return {
    dwelling: rule.dwellingMeters,
    building: rule.buildingMeters,
    road: rule.roadMeters,
    line: rule.lineMeters,
  }[from];
}

/** Places along a shape so far apart at most, for bearings to it. */
export function pointsAlong({ paths, kind }: PlaneShape, stepMeters: number): XY[] {
  return paths.flatMap((path) =>
    path.flatMap((b, i): XY[] => {
      const a = i > 0 ? path[i - 1]! : kind === 'area' ? path.at(-1)! : b;
      const count = Math.max(1, Math.ceil(Math.hypot(b[0] - a[0], b[1] - a[1]) / stepMeters));
      return Array.from({ length: count }, (_, k): XY => {
        const share = (k + 1) / count;
        return [a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share];
      });
    }),
  );
}

/** Rings of an outline without a fault, in the frame; null for any other. */
export function soundRings(feature: PlanFeature, frame: Frame): XY[][] | null {
  const { geometry } = feature;
  if (geometry.type !== 'Polygon' || findOutlineFault(geometry.coordinates)) return null;
  return ringsInFrame(feature, frame);
}

function sortOf(feature: PlanFeature): SetbackFrom | null {
  if (isKind(feature, 'no-go')) return feature.properties.reason === 'neighbour' ? 'line' : null;
  if (!isKind(feature, 'structure')) return null;
  const { use } = feature.properties;
  if (use === 'dwelling' || use === 'road') return use;
  return use === 'cabin' || use === 'barn' ? 'building' : null;
}

function shapeOf(feature: PlanFeature, frame: Frame): PlaneShape | null {
  const { geometry } = feature;
  if (geometry.type === 'Polygon') {
    const rings = soundRings(feature, frame);
    return rings && { kind: 'area', paths: rings };
  }
  const corners = geometry.type === 'Point' ? [geometry.coordinates] : geometry.coordinates;
  const path = corners.map((corner) => inFrame(frame, corner));
  if (path.includes(null)) return null;
  return { kind: geometry.type === 'Point' ? 'point' : 'line', paths: [path as XY[]] };
}
