import type { BroughtIn } from '../../geo/formats/vector/bring-in.ts';
import type { DrawingGroup, DrawingItem } from '../../geo/formats/vector/drawing-look.ts';
import type { FeatureSort, VectorFormat } from '../../geo/formats/vector/vector-types.ts';
import type { GeometryType, Kind } from '../../geo/plan/kinds.ts';
import type { Sky } from '../../geo/formats/vector/track-accuracy.ts';
import type { ItemPick } from '../store/bring-in.ts';
import { turnsInto } from '../store/bring-in.ts';
import type { Notice } from '../store/session.ts';
import type { DrawingFormat } from '../workers/messages.ts';
import { areaQuantity, figure, lengthQuantity, spoken, type UnitSystem } from './format.ts';

export const formatWords: Readonly<Record<VectorFormat, string>> = {
  geojson: 'GeoJSON',
  kml: 'KML',
  gpx: 'GPX',
  shapefile: 'shapefile',
};

export const saveFormatWords: Readonly<
  Record<DrawingFormat, { readonly name: string; readonly why: string }>
> = {
  geojson: { name: 'GeoJSON', why: 'Everything drawn with all that is known of it.' },
  kml: { name: 'KML', why: 'For globe viewers and phones; a folder for each kind.' },
  gpx: { name: 'GPX', why: 'For handheld receivers: points and lines, outlines as tracks.' },
  shapefile: { name: 'Shapefile', why: 'Zipped; points, lines and areas apart, for any GIS.' },
};

export const skyWords: Readonly<Record<Sky, string>> = {
  unknown: 'nobody said',
  open: 'in the open',
  canopy: 'under trees',
};

/** "parcels": the layer, or the file where the layer says no more. */
export function groupTitle({ file, layer }: DrawingGroup, isOnlyFile: boolean): string {
  if (layer === '') return file;
  return isOnlyFile ? layer : `${file}: ${layer}`;
}

/** "3 areas, 1 line" */
export function countWords(items: readonly DrawingItem[]): string {
  const counts = new Map<string, number>();
  for (const { type, sort } of items) {
    const word = shapeWord(type, sort);
    counts.set(word, (counts.get(word) ?? 0) + 1);
  }
  return [...counts]
    .map(([word, count]) => `${figure(count, 0)} ${word}${count === 1 ? '' : 's'}`)
    .join(', ');
}

/** What a feature is and how large: "area, 41.2 ac", "track, 1,204 points". */
export function itemFacts(item: DrawingItem, pick: ItemPick, units: UnitSystem): string {
  const { type, sort, positions, part } = item;
  const of = part ? `, part ${part.index + 1} of ${part.of}` : '';
  const area = pick.cleaned?.areaSquareMeters ?? item.areaSquareMeters;
  const length = pick.cleaned?.lengthMeters ?? item.lengthMeters;
  const size =
    typeof area === 'number'
      ? spoken(areaQuantity(area, units))
      : typeof length === 'number'
        ? spoken(lengthQuantity(length, units))
        : type === 'Point'
          ? ''
          : `${figure(positions, 0)} points`;
  return `${shapeWord(type, sort)}${of}${size === '' ? '' : `, ${size}`}`;
}

/** What becomes of the shape where the kind wants another: closed, or only its edge. */
export function turnedWords(type: GeometryType, kind: Kind): string {
  const into = turnsInto(type, kind);
  if (into === type || type === 'Point') return '';
  return into === 'Polygon' ? 'closed into an outline' : 'its outline as a line';
}

/** What is wrong with an outline, in the list before it comes in. */
export function faultWords({ fault }: DrawingItem): string {
  if (!fault) return '';
  if (fault.fault === 'no-area') return 'Encloses no ground.';
  if (fault.fault === 'hole-outside') return 'A hole lies outside it: you can mend it on the map.';
  return 'Crosses itself: you can mend it on the map.';
}

export const ownProjectOfDrawing: Notice = {
  what: 'Your drawing lies elsewhere than the demo, so it has a project of its own.',
  lines: ['The demo is still there, under Projects.'],
};

const MOST_LINES = 8;

export function leftOutNotice(leftOut: BroughtIn['leftOut']): Notice {
  const count = leftOut.length;
  const lines = [...new Set(leftOut.map(({ problem }) => `${problem.what} ${problem.wayOut}`))];
  const more = lines.length - MOST_LINES;
  return {
    what: count === 1 ? 'One feature did not come in.' : `${count} features did not come in.`,
    lines: [...lines.slice(0, MOST_LINES), ...(more > 0 ? [`And ${more} more.`] : [])],
  };
}

function shapeWord(type: GeometryType, sort: FeatureSort): string {
  if (sort !== 'shape') return sort;
  return type === 'Point' ? 'point' : type === 'LineString' ? 'line' : 'area';
}
