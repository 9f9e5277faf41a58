import type { Position } from '../../plan/feature.ts';
import { deviceNames } from './device-names.ts';
import { nameOr, type OutFeature } from './out-feature.ts';
import type { PointData } from './vector-types.ts';
import { xmlText } from './xml-text.ts';

export interface GpxChoices {
  /** Names cut to this many ASCII characters for old receivers; null leaves them whole. */
  readonly mostNameLetters: number | null;
  /** Lines as routes of at most this many points, for old receivers; null writes them as tracks. */
  readonly mostRoutePoints: number | null;
}

/**
 * GPX 1.1 text (topografix.com/GPX/1/1): points as waypoints, lines as tracks or routes, outlines
 * and holes as closed tracks, because GPX knows no area. Heights and times go along where they are
 * known. A route that is too long becomes several that share their ends.
 */
export function writeGpx(features: readonly OutFeature[], choices: GpxChoices): string {
  const given = features.map(nameOr);
  const names =
    choices.mostNameLetters === null ? given : deviceNames(given, choices.mostNameLetters);
  const points: string[] = [];
  const routes: string[] = [];
  const tracks: string[] = [];
  features.forEach((feature, i) => {
    const { geometry } = feature;
    const about = { name: names[i], feature };
    if (geometry.type === 'Point') points.push(waypoint(about, geometry.coordinates));
    else {
      const lines = geometry.type === 'LineString' ? [geometry.coordinates] : geometry.coordinates;
      if (choices.mostRoutePoints === null) tracks.push(track(about, lines));
      else routes.push(...routesOf(about, lines, choices.mostRoutePoints, choices.mostNameLetters));
    }
  });
  return (
    '<?xml version="1.0" encoding="UTF-8"?>\n' +
    '<gpx version="1.1" creator="Assart" xmlns="http://www.topografix.com/GPX/1/1">\n' +
    `${[...points, ...routes, ...tracks].join('')}</gpx>\n`
  );
}

interface Named {
  readonly name: string;
  readonly feature: OutFeature;
}

function waypoint({ name, feature }: Named, position: Position): string {
  const { inside } = pointText(feature.pointData, 0);
  return `<wpt ${place(position)}>${inside}${header(name, feature)}</wpt>\n`;
}

function track({ name, feature }: Named, lines: readonly (readonly Position[])[]): string {
  const segments = lines.map((line) => {
    const points = line.map((position, i) => pointTag('trkpt', position, feature.pointData, i));
    return `<trkseg>\n${points.join('')}</trkseg>\n`;
  });
  return `<trk>${header(name, feature)}\n${segments.join('')}</trk>\n`;
}

function routesOf(
  { name, feature }: Named,
  lines: readonly (readonly Position[])[],
  most: number,
  letters: number | null,
): string[] {
  if (most < 2) throw new RangeError(`routes of ${most} points`);
  const pieces: { readonly line: readonly Position[]; readonly from: number }[] = [];
  for (const line of lines) {
    for (let from = 0; from === 0 || from + 1 < line.length; from += most - 1) {
      pieces.push({ line: line.slice(from, from + most), from });
    }
  }
  return pieces.map(({ line, from }, i) => {
    const number = i === 0 ? '' : ` ${i + 1}`;
    const stem = letters === null ? name : name.slice(0, letters - number.length);
    const points = line.map((p, k) => pointTag('rtept', p, feature.pointData, from + k));
    return `<rte>${header(`${stem}${number}`, feature)}\n${points.join('')}</rte>\n`;
  });
}

function header(name: string, { description, attributes }: OutFeature): string {
  const type = typeof attributes.kind === 'string' ? attributes.kind : '';
  return (
    `<name>${xmlText(name)}</name>` +
    (description === '' ? '' : `<desc>${xmlText(description)}</desc>`) +
    (type === '' ? '' : `<type>${xmlText(type)}</type>`)
  );
}

function pointTag(tag: string, position: Position, data: PointData | null, i: number): string {
  const { inside, after } = pointText(data, i);
  return `<${tag} ${place(position)}>${inside}${after}</${tag}>\n`;
}

/** Children of a point in the order of the schema: ele and time before the name, hdop after it. */
function pointText(data: PointData | null, i: number): { inside: string; after: string } {
  const height = data?.heightUnit === 'metre' ? data.heights?.[i] : undefined;
  const time = data?.timesMs?.[i];
  const hdop = data?.hdop?.[i];
  const isKnown = (value: number | undefined): value is number =>
    value !== undefined && !Number.isNaN(value);
  return {
    inside:
      (isKnown(height) ? `<ele>${height}</ele>` : '') +
      (isKnown(time) ? `<time>${new Date(time).toISOString()}</time>` : ''),
    after: isKnown(hdop) ? `<hdop>${hdop}</hdop>` : '',
  };
}

function place([lng, lat]: Position): string {
  return `lat="${fixed(lat)}" lon="${fixed(lng)}"`;
}

/** Decimal, never with an exponent, to 1e-9 degree. */
function fixed(degrees: number): string {
  return degrees.toFixed(9).replace(/\.?0+$/, '');
}
