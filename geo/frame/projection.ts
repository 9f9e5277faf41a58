import { metersFrom, metersTo } from './units.ts';
import type { LinearUnit } from './crs-types.ts';

/** The map projections that state-plane, UTM, county and continental systems are made with. */
export type ProjectionMethod =
  | 'transverse-mercator'
  | 'lambert-conic'
  | 'albers-conic'
  /** Oblique Mercator with its false origin where the initial line meets the aposphere equator. */
  | 'oblique-mercator-a'
  /** Oblique Mercator with its false origin at the projection centre. */
  | 'oblique-mercator-b';

/** Angles in degrees; false origin in `unit`. Members that a method does not use stay at rest. */
export interface Projection {
  readonly method: ProjectionMethod;
  readonly lat0: number;
  readonly lon0: number;
  /** Standard parallels; both equal `lat0` for a cone given by one parallel and a scale. */
  readonly lat1: number;
  readonly lat2: number;
  readonly scale: number;
  readonly azimuth: number;
  readonly gridAngle: number;
  readonly falseEasting: number;
  readonly falseNorthing: number;
  readonly unit: LinearUnit;
}

const PROJ_UNIT: Readonly<Record<LinearUnit, string>> = {
  metre: 'm',
  'us-survey-foot': 'us-ft',
  'international-foot': 'ft',
};

/** Universal Transverse Mercator zone 1–60 in metres; south has its false northing at 10,000 km. */
export function utmProjection(zone: number, south: boolean): Projection {
  if (!Number.isInteger(zone) || zone < 1 || zone > 60) throw new RangeError(`UTM zone ${zone}`);
  return {
    method: 'transverse-mercator',
    lat0: 0,
    lon0: zone * 6 - 183,
    lat1: 0,
    lat2: 0,
    scale: 0.9996,
    azimuth: 0,
    gridAngle: 0,
    falseEasting: 500_000,
    falseNorthing: south ? 10_000_000 : 0,
    unit: 'metre',
  };
}

/**
 * PROJ string of a projection on a figure of the earth (`+datum=NAD83`, `+ellps=GRS80`, `+a= +rf=`).
 * Coordinates come out in the projection's own unit; the false origin in PROJ is always metres.
 */
export function projString(p: Projection, figure: string): string {
  const origin = `+x_0=${metersFrom(p.falseEasting, p.unit)} +y_0=${metersFrom(p.falseNorthing, p.unit)}`;
  return `${projCore(p)} ${origin} ${figure} +units=${PROJ_UNIT[p.unit]} +no_defs`;
}

function projCore(p: Projection): string {
  const parallels = `+lat_0=${p.lat0} +lon_0=${p.lon0} +lat_1=${p.lat1} +lat_2=${p.lat2}`;
  switch (p.method) {
    case 'transverse-mercator':
      return `+proj=tmerc +lat_0=${p.lat0} +lon_0=${p.lon0} +k=${p.scale}`;
    case 'lambert-conic':
      return p.scale === 1
        ? `+proj=lcc ${parallels}`
        : `+proj=lcc +lat_1=${p.lat1} +lat_2=${p.lat2} +lat_0=${p.lat0} +lon_0=${p.lon0} +k_0=${p.scale}`;
    case 'albers-conic':
      return `+proj=aea ${parallels}`;
    case 'oblique-mercator-a':
    case 'oblique-mercator-b':
      return (
        `+proj=omerc${p.method === 'oblique-mercator-a' ? ' +no_uoff' : ''} +lat_0=${p.lat0} ` +
        `+lonc=${p.lon0} +alpha=${p.azimuth} +gamma=${p.gridAngle} +k=${p.scale}`
      );
  }
}

/** The same projection and the same false origin on the ground, with coordinates in `unit`. */
export function inUnit(p: Projection, unit: LinearUnit): Projection {
  if (p.unit === unit) return p;
  return {
    ...p,
    falseEasting: metersTo(metersFrom(p.falseEasting, p.unit), unit),
    falseNorthing: metersTo(metersFrom(p.falseNorthing, p.unit), unit),
    unit,
  };
}

/**
 * Whether two definitions mean one system. Files print angles to nine digits and round false
 * origins to thousandths of a foot, so a millimetre or so is the same: 2e-8 degree, 1e-9 of scale,
 * 1 mm of false origin. The order of the standard parallels does not matter.
 */
export function sameProjection(a: Projection, b: Projection): boolean {
  const parallels = (p: Projection) => [Math.min(p.lat1, p.lat2), Math.max(p.lat1, p.lat2)];
  const [a1, a2] = parallels(a);
  const [b1, b2] = parallels(b);
  return (
    a.method === b.method &&
    a.unit === b.unit &&
    sameAngle(a.lat0, b.lat0) &&
    sameAngle(a.lon0, b.lon0) &&
    sameAngle(a1, b1) &&
    sameAngle(a2, b2) &&
    sameAngle(a.azimuth, b.azimuth) &&
    sameAngle(a.gridAngle, b.gridAngle) &&
    Math.abs(a.scale - b.scale) < 1e-9 &&
    Math.abs(metersFrom(a.falseEasting - b.falseEasting, a.unit)) < 1e-3 &&
    Math.abs(metersFrom(a.falseNorthing - b.falseNorthing, a.unit)) < 1e-3
  );
}

function sameAngle(a: number, b: number): boolean {
  const turned = Math.abs(a - b) % 360;
  return Math.min(turned, 360 - turned) < 2e-8;
}
