import type { Frame } from '../../frame/crs-types.ts';
import { ok, problem, type Result } from '../../result.ts';
import type { XY } from '../overlay/arrangement.ts';
import { overlay } from '../overlay/overlay.ts';
import type { PlanePolygon } from '../overlay/ring-areas.ts';
import { ringsToPlane, toPlanPolygons, type PolygonGeometry } from './plan-plane.ts';

/** A corner that two of the areas shared and that lies this near a straight run goes: 1 mm. */
const straightMeters = 0.001;

/**
 * One area that covers what several areas cover together. Corners that they shared and that lie on
 * a straight run now are left out, so a cut and a merge give the first outline back.
 * A problem where they do not hang together. Throws RangeError where the frame has no place for a
 * corner or fewer than two areas are given.
 */
export function mergePolygons(
  polygons: readonly PolygonGeometry[],
  frame: Frame,
): Result<PolygonGeometry> {
  if (polygons.length < 2) throw new RangeError(`${polygons.length} areas to merge`);
  const merged = toPlanPolygons(frame, mergeInPlane(polygons.map((p) => ringsToPlane(frame, p))));
  if (merged.length === 1) return ok(merged[0]);
  return problem(
    'merge-apart',
    'The areas do not touch along an edge.',
    'Move them together, or draw the ground between them first.',
  );
}

/** As above in a plane, metres; every part that is left apart. */
export function mergeInPlane(polygons: readonly (readonly (readonly XY[])[])[]): PlanePolygon[] {
  const layers = polygons.map((rings) => ({ rings, rule: 'even-odd' as const }));
  const parts = overlay(layers, (inside) => inside.includes(true));
  const shared = sharedCorners(polygons);
  return parts.map((part) => part.map((ring) => withoutShared(ring, shared)));
}

function cornerKey([x, y]: XY): string {
  return `${Math.round(x / straightMeters)} ${Math.round(y / straightMeters)}`;
}

function sharedCorners(polygons: readonly (readonly (readonly XY[])[])[]): Set<string> {
  const owner = new Map<string, number>();
  const shared = new Set<string>();
  polygons.forEach((rings, i) => {
    for (const corner of rings.flat()) {
      const key = cornerKey(corner);
      if (owner.has(key) && owner.get(key) !== i) shared.add(key);
      owner.set(key, i);
    }
  });
  return shared;
}

function withoutShared(ring: readonly XY[], shared: ReadonlySet<string>): XY[] {
  const kept: XY[] = [];
  ring.forEach((corner, i) => {
    const before = kept[kept.length - 1] ?? ring[ring.length - 1];
    const after = ring[(i + 1) % ring.length];
    if (!shared.has(cornerKey(corner)) || !isStraight(before, corner, after)) kept.push(corner);
  });
  return kept.length > 2 ? kept : [...ring];
}

function isStraight(a: XY, b: XY, c: XY): boolean {
  const dx = c[0] - a[0];
  const dy = c[1] - a[1];
  const off = Math.abs(dx * (b[1] - a[1]) - dy * (b[0] - a[0]));
  const ahead = dx * (b[0] - a[0]) + dy * (b[1] - a[1]);
  return off <= straightMeters * Math.hypot(dx, dy) && ahead > 0 && ahead < dx * dx + dy * dy;
}
