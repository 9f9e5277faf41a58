import { metersPerUnit, unitFromFactor } from './units.ts';
import { child, nameOf, numberAt } from './wkt-tree.ts';
import type { LinearUnit } from './crs-types.ts';
import type { Projection, ProjectionMethod } from './projection.ts';
import type { WktNode } from './wkt-tree.ts';

/** Method names with everything but letters and digits taken out. */
const METHODS: Readonly<Record<string, ProjectionMethod>> = {
  transversemercator: 'transverse-mercator',
  gausskruger: 'transverse-mercator',
  transversemercatorcomplex: 'transverse-mercator',
  lambertconformalconic: 'lambert-conic',
  lambertconformalconic1sp: 'lambert-conic',
  lambertconformalconic2sp: 'lambert-conic',
  lambertconicconformal1sp: 'lambert-conic',
  lambertconicconformal2sp: 'lambert-conic',
  albers: 'albers-conic',
  albersequalarea: 'albers-conic',
  albersconicequalarea: 'albers-conic',
  hotineobliquemercator: 'oblique-mercator-a',
  hotineobliquemercatorvarianta: 'oblique-mercator-a',
  hotineobliquemercatorazimuthnaturalorigin: 'oblique-mercator-a',
  obliquemercator: 'oblique-mercator-b',
  hotineobliquemercatorvariantb: 'oblique-mercator-b',
  hotineobliquemercatorazimuthcenter: 'oblique-mercator-b',
};

/** Spellings of the parameters in WKT1, ESRI and WKT2, in the same plain form. */
const SPELLINGS = {
  lat0: [
    'latitudeoforigin',
    'latitudeofnaturalorigin',
    'latitudeoffalseorigin',
    'latitudeofcenter',
    'latitudeofprojectioncentre',
  ],
  lon0: [
    'centralmeridian',
    'longitudeoforigin',
    'longitudeofnaturalorigin',
    'longitudeoffalseorigin',
    'longitudeofcenter',
    'longitudeofprojectioncentre',
  ],
  lat1: ['standardparallel1', 'latitudeof1ststandardparallel'],
  lat2: ['standardparallel2', 'latitudeof2ndstandardparallel'],
  scale: [
    'scalefactor',
    'scalefactoratnaturalorigin',
    'scalefactoratprojectioncentre',
    'scalefactoroninitialline',
    'scalefactorattheprojectioncentre',
  ],
  azimuth: ['azimuth', 'azimuthofinitialline', 'azimuthatprojectioncentre'],
  gridAngle: ['rectifiedgridangle', 'anglefromrectifiedtoskewgrid'],
  falseEasting: ['falseeasting', 'eastingatfalseorigin', 'eastingatprojectioncentre'],
  falseNorthing: ['falsenorthing', 'northingatfalseorigin', 'northingatprojectioncentre'],
} as const;

type Slot = keyof typeof SPELLINGS;

const SLOT_OF = new Map<string, Slot>(
  (Object.keys(SPELLINGS) as Slot[]).flatMap((slot) =>
    SPELLINGS[slot].map((spelling): [string, Slot] => [spelling, slot]),
  ),
);

export type ProjectionReading =
  | { readonly kind: 'projection'; readonly projection: Projection }
  | { readonly kind: 'web-mercator' }
  | { readonly kind: 'unknown-method'; readonly method: string }
  | { readonly kind: 'unknown-unit'; readonly unit: string };

/** Reads the map projection of a PROJCS or PROJCRS node. Angles must be degrees (checked before). */
export function projectionFromWkt(crs: WktNode): ProjectionReading {
  const conversion = child(crs, 'CONVERSION') ?? crs;
  const methodName = nameOf(child(conversion, 'METHOD', 'PROJECTION'));
  if (isWebMercator(crs, methodName)) return { kind: 'web-mercator' };

  const method = METHODS[plain(methodName)];
  const unitNode = linearUnitNode(crs);
  const unit = unitFromFactor(numberAt(unitNode, 1));
  if (!method) return { kind: 'unknown-method', method: methodName };
  if (!unit) return { kind: 'unknown-unit', unit: nameOf(unitNode) };

  const given: Partial<Record<Slot, number>> = {};
  for (const parameter of conversion.nodes.filter((node) => node.keyword === 'PARAMETER')) {
    const slot = SLOT_OF.get(plain(nameOf(parameter)));
    if (slot) given[slot] = inCrsUnit(parameter, unit);
  }
  return { kind: 'projection', projection: completeProjection(method, given, unit) };
}

/** Fills what a definition leaves out: one standard parallel means the parallel of origin. */
export function completeProjection(
  method: ProjectionMethod,
  given: Partial<Record<Slot, number>>,
  unit: LinearUnit,
): Projection {
  const lat0 = given.lat0 ?? 0;
  const conic = method === 'lambert-conic' || method === 'albers-conic';
  const lat1 = conic ? (given.lat1 ?? lat0) : 0;
  const azimuth = given.azimuth ?? 0;
  const oblique = method === 'oblique-mercator-a' || method === 'oblique-mercator-b';
  return {
    method,
    lat0,
    lon0: given.lon0 ?? 0,
    lat1,
    lat2: conic ? (given.lat2 ?? lat1) : 0,
    scale: given.scale ?? 1,
    azimuth: oblique ? azimuth : 0,
    gridAngle: oblique ? (given.gridAngle ?? azimuth) : 0,
    falseEasting: given.falseEasting ?? 0,
    falseNorthing: given.falseNorthing ?? 0,
    unit,
  };
}

// Web mercator is a sphere's formula fed with the ellipsoid's latitudes; each flavour says so in
// its own way, and an ellipsoidal Mercator must not be mistaken for it.
function isWebMercator(crs: WktNode, methodName: string): boolean {
  const method = plain(methodName);
  if (method === 'mercatorauxiliarysphere') return true;
  if (method === 'popularvisualisationpseudomercator') return true;
  const extension = child(crs, 'EXTENSION')?.values.join(' ') ?? '';
  return method.startsWith('mercator') && /\+a=6378137 .*\+b=6378137(\s|$|\.0)/.test(extension);
}

function linearUnitNode(crs: WktNode): WktNode | undefined {
  const own = child(crs, 'UNIT', 'LENGTHUNIT');
  if (own) return own;
  const axis = child(crs, 'AXIS');
  return axis && child(axis, 'UNIT', 'LENGTHUNIT');
}

// WKT2 gives each length its own unit, which need not be the unit of the coordinates.
function inCrsUnit(parameter: WktNode, unit: LinearUnit): number {
  const value = numberAt(parameter, 1);
  const factor = numberAt(child(parameter, 'LENGTHUNIT'), 1);
  if (!Number.isFinite(factor) || unitFromFactor(factor) === unit) return value;
  return (value * factor) / metersPerUnit(unit);
}

function plain(name: string): string {
  return name.toLowerCase().replace(/[^a-z0-9]/g, '');
}
