import { isKind, type PlanFeature, type PlanGeometry } from '../../geo/plan/feature.ts';
import { earth, ink, waterRamp, waterText } from '../palette.ts';
import { outline } from './area-marks.ts';
import type { DrawingChoices } from './feature-marks.ts';
import { lineLength, placeAt } from '../../geo/plan/line-geometry.ts';
import { localPlane } from './local-plane.ts';
import type { LineTextMark, Mark, SymbolMark } from './marks.ts';
import { order, rank } from './mark-order.ts';

type LineGeometry = Extract<PlanGeometry, { type: 'LineString' }>;

/** Letter on a buried line, by what it carries; the trade paints the same letters on the ground. */
const buriedLetters = {
  water: 'W',
  electric: 'E',
  gas: 'G',
  telephone: 'T',
  sewer: 'S',
  unknown: '?',
} as const;

/** Lines whose look depends on their kind only. */
export function lineMarks(feature: PlanFeature, { caption }: DrawingChoices): Mark[] {
  const geometry = feature.geometry as LineGeometry;
  const words = [feature.name, caption].filter(Boolean).join(' · ');
  switch (feature.kind) {
    case 'lane':
      return [
        outline(geometry, order.lane, ink, 2.2, 'lane', 2.2),
        along(geometry, words, order.lane, ink, rank.lane),
      ];
    case 'ditch':
      return [
        outline(geometry, order.ditch, waterRamp[4], 2.6, null, 1.4),
        ...arrows(geometry, 'flow'),
        along(geometry, words, order.ditch, waterText, rank.line),
      ];
    case 'culvert':
      return [
        outline(geometry, order.ditch + 1, ink, 4.5, null, 1.4),
        along(geometry, words, order.ditch, ink, rank.line),
      ];
    case 'power-line':
      return [
        outline(geometry, order.overhead, ink, 1.3, null, 1.2),
        ...ticks(geometry, 'crossbar', crossbarMeters),
        along(geometry, words, order.overhead, ink, rank.line),
      ];
    case 'buried-line': {
      const letter = isKind(feature, 'buried-line')
        ? buriedLetters[feature.properties.carries]
        : '?';
      return [
        outline(geometry, order.buried, ink, 1.5, 'buried', 1.2),
        { ...along(geometry, letter, order.buried, ink, rank.line), repeated: true },
        along(geometry, words, order.buried, ink, rank.line + 1),
      ];
    }
    case 'travel-corridor':
      return [
        outline(geometry, order.corridor, earth, 2, 'corridor-line', 1.2),
        ...arrows(geometry, 'corridor'),
        along(geometry, words, order.corridor, ink, rank.line),
      ];
    case 'section-line':
      return [
        outline(geometry, order.section, ink, 1.2, 'section', 1),
        ...ends(geometry, 'section-end'),
        along(geometry, words, order.section, ink, rank.line),
      ];
    default:
      return [
        outline(geometry, order.structure, ink, 1.4, null, 1),
        along(geometry, words, order.structure, ink, rank.line),
      ];
  }
}

export function along(
  geometry: LineGeometry,
  text: string,
  place: number,
  color: string,
  labelRank: number,
): LineTextMark {
  return {
    mark: 'line-text',
    geometry,
    order: place,
    text,
    repeated: false,
    color,
    rank: labelRank,
  };
}

/** About one pole span on a rural line. */
const crossbarMeters = 60;

function ticks(geometry: LineGeometry, symbol: string, spacingMeters: number): SymbolMark[] {
  const plane = localPlane(geometry.coordinates[0]);
  const line = geometry.coordinates.map(plane.toPlane);
  const length = lineLength(line);
  if (!(length > 0)) return [];
  const count = Math.max(1, Math.round(length / spacingMeters));
  return Array.from({ length: count }, (_, k) => {
    const place = placeAt(line, ((k + 0.5) * length) / count);
    return {
      mark: 'symbol',
      geometry: { type: 'Point', coordinates: plane.toPosition(place.at) },
      order: order.symbol - 1,
      symbol,
      bearingDegrees: bearing(place.along),
    };
  });
}

/** One arrow in the middle of every leg, pointing the way the line was drawn. */
function arrows(geometry: LineGeometry, symbol: string): SymbolMark[] {
  return ticks(geometry, `${symbol}-arrow`, 40);
}

function ends(geometry: LineGeometry, symbol: string): SymbolMark[] {
  const plane = localPlane(geometry.coordinates[0]);
  const line = geometry.coordinates.map(plane.toPlane);
  const length = lineLength(line);
  if (!(length > 0)) return [];
  return [0, length].map((station) => {
    const { at, along: direction } = placeAt(line, station);
    return {
      mark: 'symbol',
      geometry: { type: 'Point', coordinates: plane.toPosition(at) },
      order: order.symbol - 1,
      symbol,
      bearingDegrees: bearing(direction),
    };
  });
}

function bearing([x, y]: readonly [number, number]): number {
  return ((Math.atan2(x, y) * 180) / Math.PI + 360) % 360;
}
