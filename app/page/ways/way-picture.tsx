import { useMemo, type ReactElement } from 'react';
import type { ClearingWay } from '../../../geo/answers/debris-answers.ts';
import { heapOutline } from '../../../geo/debris/point-heap.ts';
import { solidParts } from '../../../geo/debris/berm-parts.ts';
import { isKind, type PlanFeature, type Position } from '../../../geo/plan/feature.ts';
import { lineLength, linePart } from '../../../geo/plan/line-geometry.ts';
import { localPlane } from '../../../layers/plan/local-plane.ts';
import { wayWords } from '../../words/way-words.ts';

type XY = readonly [number, number];
type Plane = ReturnType<typeof localPlane>;

/** One way on its outline, north up; all of them in one frame, so that they have one scale. */
export function WayPicture({
  place,
  way,
  all,
}: {
  readonly place: PlanFeature;
  readonly way: ClearingWay;
  readonly all: readonly ClearingWay[];
}): ReactElement | null {
  const { plane, box } = useMemo(() => frameOf(place, all), [place, all]);
  if (place.geometry.type !== 'Polygon') return null;
  const path = (ring: readonly XY[]) => `M${ring.map(([x, y]) => `${x.toFixed(1)} ${(-y).toFixed(1)}`).join('L')}`; // prettier-ignore
  const outline = place.geometry.coordinates.map((ring) => `${path(ring.map(plane.toPlane))}Z`);
  const line = box.size / 160;
  return (
    <svg
      viewBox={`${box.west} ${-box.north} ${box.size} ${box.size}`}
      role="img"
      aria-label={`${wayWords[way.way].name}, drawn to scale`}
      className="way-picture"
    >
      <path d={outline.join('')} className="way-outline" strokeWidth={line * 2} />
      {way.features.map((feature) => (
        <Debris key={feature.id} feature={feature} plane={plane} path={path} />
      ))}
    </svg>
  );
}

function Debris({
  feature,
  plane,
  path,
}: {
  readonly feature: PlanFeature<'berm' | 'heap'>;
  readonly plane: Plane;
  readonly path: (ring: readonly XY[]) => string;
}): ReactElement | null {
  const { geometry } = feature;
  if (isKind(feature, 'berm') && geometry.type === 'LineString') {
    const line = geometry.coordinates.map(plane.toPlane);
    const { baseWidthMeters: wide, gaps } = feature.properties;
    return (
      <>
        {solidParts(lineLength(line), gaps).map(([from, to]) => (
          <path
            key={from}
            d={path(withoutEnds(line, from, to, wide / 2))}
            className="way-berm"
            strokeWidth={wide}
          />
        ))}
      </>
    );
  }
  const outline = isKind(feature, 'heap') ? heapOutline(feature.properties) : null;
  if (!outline || geometry.type !== 'Point') return null;
  const [x, y] = plane.toPlane(geometry.coordinates);
  return <path d={`${path(outline.map(([e, n]): XY => [x + e, y + n]))}Z`} className="way-heap" />;
}

/** A part of a line less what its round ends add to it; a short one is a dot in its middle. */
function withoutEnds(line: readonly XY[], from: number, to: number, end: number): XY[] {
  const [middle, dot] = [(from + to) / 2, Math.min(0.1, to - from) / 2];
  return linePart(line, Math.min(from + end, middle - dot), Math.max(to - end, middle + dot));
}

function frameOf(place: PlanFeature, all: readonly ClearingWay[]) {
  const own: readonly Position[] =
    place.geometry.type === 'Polygon' ? place.geometry.coordinates.flat() : [];
  const laid = all.flatMap(({ features }) =>
    features.flatMap(({ geometry }): readonly Position[] =>
      geometry.type === 'LineString' ? geometry.coordinates : [],
    ),
  );
  const plane = localPlane(own[0] ?? [0, 0]);
  const points = [...own, ...laid].map(plane.toPlane);
  const xs = points.map(([x]) => x);
  const ys = points.map(([, y]) => y);
  const margin = 8;
  const size = Math.max(Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys)) + 2 * margin; // prettier-ignore
  const west = (Math.min(...xs) + Math.max(...xs)) / 2 - size / 2;
  const north = (Math.min(...ys) + Math.max(...ys)) / 2 + size / 2;
  return { plane, box: { west, north, size } };
}
