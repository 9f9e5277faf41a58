import { bermSolids } from '../../geo/debris/berm-solid.ts';
import type { PlanFeature, PlanGeometry, Position } from '../../geo/plan/feature.ts';
import { earth, ink } from '../palette.ts';
import type { DrawingChoices } from './feature-marks.ts';
import { bandAround, lineLength, placeAt } from '../../geo/plan/line-geometry.ts';
import { localPlane, type LocalPlane, type Point } from './local-plane.ts';
import type { Mark } from './marks.ts';
import { order, rank } from './mark-order.ts';
import { stationSpacingMeters, stationText } from './stations.ts';

/**
 * A berm to scale: a band as wide as its base with earth hatch, round where it ends and at its gaps,
 * and a tick with its station every 50 ft (20 m).
 */
export function bermMarks(feature: PlanFeature<'berm'>, choices: DrawingChoices): Mark[] {
  const { coordinates } = feature.geometry as Extract<PlanGeometry, { type: 'LineString' }>;
  const plane = localPlane(coordinates[0]);
  const line = coordinates.map(plane.toPlane);
  const length = lineLength(line);
  if (!(length > 0)) return [];
  const { baseWidthMeters } = feature.properties;
  const marks: Mark[] = [];
  for (const solid of bermSolids(line, feature.properties)) {
    const outline = bandAround(solid.line, 2 * solid.halfWidth, 'round');
    marks.push(...bandMarks(polygon(plane, outline), hatchAcross(line)));
  }
  const side = outerSide(line);
  marks.push(...stationMarks(line, length, baseWidthMeters / 2, side, plane, choices.units));
  marks.push(bermLabel(feature, choices.caption, line, length, side, plane));
  return marks;
}

export function bandMarks(geometry: PlanGeometry, pattern = 'earth'): Mark[] {
  return [
    { mark: 'fill', geometry, order: order.earthwork, color: '#cdb78d', opacity: 0.78 },
    { mark: 'pattern', geometry, order: order.earthwork, pattern },
    {
      mark: 'stroke',
      geometry,
      order: order.earthwork,
      color: earth,
      widthPixels: 1.4,
      dash: null,
      casingPixels: 0.8,
    },
  ];
}

/** The hatch that crosses the line rather than running along it; y is north, so 'earth' rises. */
function hatchAcross(line: readonly Point[]): 'earth' | 'earth-falling' {
  const [ax, ay] = line[0];
  const [bx, by] = line[line.length - 1];
  return (bx - ax) * (by - ay) > 0 ? 'earth-falling' : 'earth';
}

/**
 * Name and caption turned along the middle of the berm, outside its stations. Not text on a line:
 * the map drops that wherever the line is a little short for it.
 */
function bermLabel(
  feature: PlanFeature<'berm'>,
  caption: string,
  line: readonly Point[],
  length: number,
  side: 1 | -1,
  plane: LocalPlane,
): Mark {
  const { at, along } = placeAt(line, length / 2);
  const away = side * (feature.properties.baseWidthMeters / 2 + stationLabelMeters + 5);
  const turn = (Math.atan2(-along[1], along[0]) * 180) / Math.PI;
  return {
    mark: 'label',
    geometry: {
      type: 'Point',
      coordinates: plane.toPosition([at[0] - along[1] * away, at[1] + along[0] * away]),
    },
    order: 0,
    text: [feature.name, caption].filter(Boolean).join(', '),
    caption: '',
    color: ink,
    sizePixels: 13,
    beside: false,
    rank: rank.earthwork,
    // Never upside down.
    turnDegrees: turn > 90 ? turn - 180 : turn <= -90 ? turn + 180 : turn,
  };
}

/**
 * The side that a line bends away from, 1 left and -1 right: there stations spread out round its
 * corners, on the other they crowd. Left where it bends as much to both.
 */
export function outerSide(line: readonly Point[]): 1 | -1 {
  const headings = line.slice(1).flatMap(([bx, by], i) => {
    const [ax, ay] = line[i]!;
    return ax === bx && ay === by ? [] : [Math.atan2(by - ay, bx - ax)];
  });
  const turns = headings.slice(1).map((heading, i) => {
    const turn = heading - headings[i]!;
    return Math.atan2(Math.sin(turn), Math.cos(turn));
  });
  return turns.reduce((sum, turn) => sum + turn, 0) > 1e-6 ? -1 : 1;
}

/** How far past the foot of the berm a tick reaches, and where its label stands, metres. */
const tickMeters = 2;
const stationLabelMeters = 5;

function stationMarks(
  line: readonly Point[],
  length: number,
  half: number,
  outer: 1 | -1,
  plane: LocalPlane,
  units: 'us' | 'metric',
): Mark[] {
  const spacing = stationSpacingMeters(units);
  const marks: Mark[] = [];
  for (let k = 0; k * spacing <= length + 1e-6; k++) {
    const { at, along } = placeAt(line, k * spacing);
    const side: Point = [-along[1] * outer, along[0] * outer];
    const reach = (meters: number): Position =>
      plane.toPosition([at[0] + side[0] * meters, at[1] + side[1] * meters]);
    marks.push({
      mark: 'stroke',
      geometry: {
        type: 'LineString',
        coordinates: [reach(half), reach(half + tickMeters)],
      },
      order: order.station,
      color: ink,
      widthPixels: 1.2,
      dash: null,
      casingPixels: 0,
    });
    marks.push({
      mark: 'label',
      geometry: {
        type: 'Point',
        coordinates: reach(half + stationLabelMeters),
      },
      order: order.station,
      text: '',
      caption: stationText(k * spacing, units),
      color: ink,
      sizePixels: 12,
      beside: false,
      isFixed: true,
      rank: rank.station + (k % 4 === 0 ? (k === 0 ? 0 : 1) : k % 2 === 0 ? 2 : 3),
    });
  }
  return marks;
}

function polygon(plane: LocalPlane, outline: readonly Point[]): PlanGeometry {
  return { type: 'Polygon', coordinates: [outline.map(plane.toPosition)] };
}
