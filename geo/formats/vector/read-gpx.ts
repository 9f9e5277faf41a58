import { crsFromEpsg } from '../../frame/crs.ts';
import type { Work } from '../../work.ts';
import { counted } from './count-words.ts';
import { parseUtc } from './parse-utc.ts';
import type { RawFeature, RawLayer, RawPart, XY } from './raw-feature.ts';
import { takeFeatures, takePositions, type Limits } from './vector-error.ts';
import type { FeatureSort } from './vector-types.ts';
import { walkXml, type XmlHandler } from './walk-xml.ts';

/** Fields that the schema types as numbers. */
const NUMBERS = new Set(
  ('magvar geoidheight sat hdop vdop pdop ageofdgpsdata dgpsid number course speed ' + 'ele').split(
    ' ',
  ),
);
/** Sections of a GPX file: what they are and what the layer is called. */
const SECTIONS: Readonly<Record<string, { sort: FeatureSort; layer: string }>> = {
  wpt: { sort: 'waypoint', layer: 'waypoints' },
  rte: { sort: 'route', layer: 'routes' },
  trk: { sort: 'track', layer: 'tracks' },
};
const POINTS = new Set(['wpt', 'rtept', 'trkpt']);

/** One line being read: positions with what is known of each. */
interface Trail {
  readonly positions: XY[];
  readonly heights: number[];
  readonly timesMs: number[];
  readonly hdop: number[];
}

/**
 * Reads GPX 1.0 and 1.1 (topografix.com/GPX/1/1): waypoints, routes, tracks with their segments,
 * height in metres, time in UTC and hdop of each point. Extensions are passed over. A file that
 * ends in the middle (a recorder that died) gives the points up to there, with a note.
 * Throws VectorError.
 */
export function* readGpx(text: string, file: string, limits: Limits): Work<RawLayer> {
  const features: RawFeature[] = [];
  const reader = gpxHandler(features, limits);
  const { isCut, unknownEntities } = yield* walkXml(text, file, 'gpx', reader);
  if (isCut) reader.finish();
  const notes: string[] = [];
  if (isCut) notes.push(`${file} breaks off before its end; what was whole up to there was read.`);
  if (unknownEntities > 0) {
    notes.push(`${counted(unknownEntities, 'entity', 'entities')} left standing as text.`);
  }
  return {
    file,
    format: 'gpx',
    crs: crsFromEpsg(4326),
    isFixed: true,
    heightUnit: 'metre',
    features,
    notes,
  };
}

function gpxHandler(features: RawFeature[], limits: Limits): XmlHandler & { finish(): void } {
  let section: { readonly tag: string; readonly depth: number } | null = null;
  let fields: [string, string | number][] = [];
  let name = '';
  let description = '';
  let trails: Trail[] = [];
  let point: { readonly tag: string; readonly depth: number } | null = null;

  const trail = () => trails[trails.length - 1];
  const pushPoint = (attributes: Readonly<Record<string, string>>) => {
    takePositions(limits, 1);
    const { positions, heights, timesMs, hdop } = trail();
    positions.push([numberOf(attributes.lon), numberOf(attributes.lat)]);
    heights.push(Number.NaN);
    timesMs.push(Number.NaN);
    hdop.push(Number.NaN);
  };
  const setLast = (list: number[], value: number) => {
    list[list.length - 1] = value;
  };
  const finishSection = () => {
    if (section === null) return;
    const { sort, layer } = SECTIONS[section.tag];
    const type = sort === 'waypoint' ? 'Point' : 'LineString';
    const parts = trails.filter((t) => t.positions.length > 0).map((t) => partOf(t, type));
    features.push({ name, description, attributes: fields, layer, sort, parts });
    section = null;
  };

  return {
    open(tag, attributes, depth) {
      if (section === null) {
        if (depth !== 1 || !Object.hasOwn(SECTIONS, tag)) return;
        takeFeatures(limits, 1);
        section = { tag, depth };
        fields = [];
        name = '';
        description = '';
        trails = tag === 'trk' ? [] : [freshTrail()];
      } else if (tag === 'trkseg') trails.push(freshTrail());
      if (POINTS.has(tag) && point === null && trails.length > 0) {
        point = { tag, depth };
        pushPoint(attributes);
      } else if (tag === 'link' && depth === section.depth + 1 && point?.tag !== 'trkpt') {
        if (attributes.href) fields.push(['link', attributes.href.slice(0, 2000)]);
      }
    },
    close(tag, text, depth) {
      if (section === null) return;
      if (point !== null && depth === point.depth) point = null;
      else if (point !== null && depth === point.depth + 1) {
        if (tag === 'ele') setLast(trail().heights, numberOf(text));
        else if (tag === 'time') setLast(trail().timesMs, parseUtc(text.trim()));
        else if (tag === 'hdop') setLast(trail().hdop, numberOf(text));
      }
      if (depth === section.depth) finishSection();
      else if (depth === section.depth + 1) {
        const value = text.trim();
        if (tag === 'name') name = value;
        else if (tag === 'desc') description = value;
        else if (value !== '' && !SKIPPED.has(tag)) {
          const isNumber = NUMBERS.has(tag) && Number.isFinite(Number(value));
          fields.push([tag, isNumber ? Number(value) : value.slice(0, 2000)]);
        }
      }
    },
    finish() {
      // The last position may have been cut off with its height and time: it still is a position.
      finishSection();
    },
  };
}

/** Children that are no field of their own. */
const SKIPPED = new Set(['trkseg', 'rtept', 'extensions', 'link']);

function freshTrail(): Trail {
  return { positions: [], heights: [], timesMs: [], hdop: [] };
}

function partOf(trail: Trail, type: 'Point' | 'LineString'): RawPart {
  const known = (list: number[]) => list.some((value) => !Number.isNaN(value));
  return {
    type,
    rings: [trail.positions],
    ...(known(trail.heights) ? { heights: trail.heights } : {}),
    ...(known(trail.timesMs) ? { timesMs: trail.timesMs } : {}),
    ...(known(trail.hdop) ? { hdop: trail.hdop } : {}),
  };
}

function numberOf(text: string | undefined): number {
  const value = Number(text);
  // Nothing but blanks counts as 0 in the language, not in a file.
  return value === 0 && text!.trim() === '' ? Number.NaN : value;
}
