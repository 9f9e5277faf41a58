import { unitFromFactor } from './units.ts';
import { KEY, keyNumber, keyText, UNIT_BY_CODE, USER_DEFINED } from './geo-keys.ts';
import { child, epsgOf, nameOf, numberAt, parseWkt } from './wkt-tree.ts';
import { compoundByCode } from './crs-table.ts';
import type { LinearUnit, VerticalDatum, VerticalReference } from './crs-types.ts';
import type { GeoKeys } from './geo-keys.ts';
import type { WktNode } from './wkt-tree.ts';

/**
 * What a file says of its heights. A unit is read, never guessed: where a file is silent, speaks of
 * "feet" without saying which, counts downwards, or contradicts itself, the unit is null and the
 * user is asked.
 */
export const HEIGHTS_UNKNOWN: VerticalReference = { unit: null, datum: 'unknown', epsg: null };

/**
 * Vertical systems by EPSG code: GDAL writes the code and leaves the unit key out. Datums other
 * than NAVD88 and the ellipsoid are 'unknown' here; their unit is known all the same.
 */
const SYSTEMS: Readonly<Record<number, readonly [VerticalDatum, LinearUnit]>> = {
  5703: ['NAVD88', 'metre'],
  6360: ['NAVD88', 'us-survey-foot'],
  8228: ['NAVD88', 'international-foot'],
  // NGVD29.
  5702: ['unknown', 'us-survey-foot'],
  7968: ['unknown', 'metre'],
  // EGM84, EGM96, EGM2008.
  5798: ['unknown', 'metre'],
  5773: ['unknown', 'metre'],
  3855: ['unknown', 'metre'],
  // Mean sea level.
  5714: ['unknown', 'metre'],
  8050: ['unknown', 'international-foot'],
  8052: ['unknown', 'us-survey-foot'],
  // Canada (CGVD28, CGVD2013), northern Marianas, Puerto Rico, Virgin Islands, Samoa, Guam.
  5713: ['unknown', 'metre'],
  6647: ['unknown', 'metre'],
  6640: ['unknown', 'metre'],
  6641: ['unknown', 'metre'],
  6642: ['unknown', 'metre'],
  6643: ['unknown', 'metre'],
  6644: ['unknown', 'metre'],
  // Three-dimensional geographic systems: heights above the ellipsoid.
  4979: ['ellipsoid', 'metre'],
  4957: ['ellipsoid', 'metre'],
  4893: ['ellipsoid', 'metre'],
  4955: ['ellipsoid', 'metre'],
  6319: ['ellipsoid', 'metre'],
  6321: ['ellipsoid', 'metre'],
  6324: ['ellipsoid', 'metre'],
  6782: ['ellipsoid', 'metre'],
};

/**
 * Heights of a vertical, compound or three-dimensional EPSG code. 6360 gives NAVD88 in US survey
 * feet. Codes that are not known, and horizontal codes, say nothing.
 */
export function verticalFromEpsg(code: number): VerticalReference {
  const compound = compoundByCode(code);
  if (compound) return verticalFromEpsg(compound.vertical);
  const system = SYSTEMS[code];
  if (system) return { unit: system[1], datum: system[0], epsg: code };
  return HEIGHTS_UNKNOWN;
}

/** Heights of GeoTIFF keys 4096–4099, by key number. */
export function verticalFromGeoKeys(keys: GeoKeys): VerticalReference {
  const code = keyNumber(keys, KEY.VerticalCSTypeGeoKey) ?? 0;
  const fromCode =
    code > 0 && code !== USER_DEFINED ? fromVerticalKey(code) : ellipsoidFromKeys(keys);
  const citation = keyText(keys, KEY.VerticalCitationGeoKey);
  const stated = statedUnit(keys) ?? unitFromText(citation);
  const datumCode = keyNumber(keys, KEY.VerticalDatumGeoKey);
  const datum =
    fromCode.datum !== 'unknown'
      ? fromCode.datum
      : datumCode === 5103
        ? 'NAVD88'
        : datumFromName(citation);
  return { unit: agreed(fromCode.unit, stated), datum, epsg: fromCode.epsg };
}

// GeoTIFF 1.0 put ellipsoids (5001–5033) and datums (5101–5106) where a vertical system belongs;
// those say nothing of the unit.
function fromVerticalKey(code: number): VerticalReference {
  if (code >= 5001 && code <= 5033) return { unit: null, datum: 'ellipsoid', epsg: null };
  if (code === 5103) return { unit: null, datum: 'NAVD88', epsg: null };
  const known = verticalFromEpsg(code);
  return known.epsg === null ? { ...HEIGHTS_UNKNOWN, epsg: code } : known;
}

function ellipsoidFromKeys(keys: GeoKeys): VerticalReference {
  const geographic = keyNumber(keys, KEY.GeographicTypeGeoKey) ?? 0;
  return verticalFromEpsg(geographic);
}

function statedUnit(keys: GeoKeys): LinearUnit | null {
  return UNIT_BY_CODE[keyNumber(keys, KEY.VerticalUnitsGeoKey) ?? 0] ?? null;
}

// Only words that can mean one unit: "feet" alone could be either foot.
function unitFromText(text: string): LinearUnit | null {
  const plain = text.toLowerCase();
  if (/ftus|us[ _-]?survey[ _-]?f|foot_us|us[ _-]?f(oo|ee)?t/.test(plain)) return 'us-survey-foot';
  if (/international[ _-]?f(oo|ee)?t/.test(plain)) return 'international-foot';
  return /\bmet(re|er)s?\b|\(m\)/.test(plain) ? 'metre' : null;
}

function agreed(a: LinearUnit | null, b: LinearUnit | null): LinearUnit | null {
  if (a === null || b === null) return a ?? b;
  return a === b ? a : null;
}

/** Heights of well-known text: the vertical part of a compound, beside a .prj, or the third axis. */
export function verticalFromWkt(wkt: string): VerticalReference {
  const roots = parseWkt(wkt.trim());
  if (!roots) return HEIGHTS_UNKNOWN;
  for (const root of roots) {
    const vertical = findNode(root, ['VERT_CS', 'VERTCS', 'VERTCRS', 'VERTICALCRS']);
    // GDAL gives a known compound its code once, at the outside.
    const compound = compoundByCode(epsgOf(root) ?? 0);
    if (vertical) return fromVerticalNode(vertical, compound?.vertical ?? null);
  }
  const threeD = findNode(roots[0]!, ['GEOGCRS', 'GEOGRAPHICCRS', 'GEODCRS', 'GEOGCS', 'PROJCRS']);
  return threeD ? fromThirdAxis(threeD) : HEIGHTS_UNKNOWN;
}

function fromVerticalNode(node: WktNode, outerCode: number | null): VerticalReference {
  const datumNode = child(
    node,
    'VERT_DATUM',
    'VDATUM',
    'VERTICALDATUM',
    'VRF',
    'ENSEMBLE',
    'DATUM',
  );
  const axis = child(node, 'AXIS');
  const unitNode = child(node, 'UNIT', 'LENGTHUNIT') ?? (axis && child(axis, 'UNIT', 'LENGTHUNIT'));
  const epsg = epsgOf(node) ?? outerCode;
  const own: VerticalReference = {
    unit: countsDown(node, axis) ? null : unitFromFactor(numberAt(unitNode, 1)),
    datum: isEllipsoidal(node, datumNode) ? 'ellipsoid' : datumFromName(nameOf(datumNode)),
    epsg,
  };
  const known = epsg === null ? HEIGHTS_UNKNOWN : verticalFromEpsg(epsg);
  const datum = known.datum === 'unknown' ? own.datum : known.datum;
  return { unit: unitNode ? agreed(known.unit, own.unit) : known.unit, datum, epsg };
}

function fromThirdAxis(crs: WktNode): VerticalReference {
  const axes = crs.nodes.filter((node) => node.keyword === 'AXIS');
  const third = axes[2];
  if (third) {
    const factor = numberAt(child(third, 'LENGTHUNIT', 'UNIT') ?? child(crs, 'LENGTHUNIT'), 1);
    return { unit: unitFromFactor(factor), datum: 'ellipsoid', epsg: epsgOf(crs) };
  }
  return HEIGHTS_UNKNOWN;
}

function findNode(root: WktNode, keywords: readonly string[]): WktNode | null {
  if (keywords.includes(root.keyword)) return root;
  for (const node of root.nodes) {
    const found = findNode(node, keywords);
    if (found) return found;
  }
  return null;
}

// ESRI gives the direction as a parameter, the others as the axis.
function countsDown(node: WktNode, axis: WktNode | undefined): boolean {
  const direction = node.nodes.find(
    (inner) => inner.keyword === 'PARAMETER' && /^direction$/i.test(nameOf(inner)),
  );
  if (direction && numberAt(direction, 1) < 0) return true;
  return axis?.values.some((value) => /^down$/i.test(String(value))) ?? false;
}

// WKT1 marks ellipsoidal heights by datum type 2002, ESRI by a horizontal datum in the vertical one.
function isEllipsoidal(node: WktNode, datum: WktNode | undefined): boolean {
  if (datum?.keyword === 'VERT_DATUM') return numberAt(datum, 1) === 2002;
  return node.keyword === 'VERTCS' && datum?.keyword === 'DATUM';
}

function datumFromName(name: string): VerticalDatum {
  const plain = name.toLowerCase().replace(/[^a-z0-9]/g, '');
  if (/navd(19)?88|northamericanvertical(datum)?(of)?1988/.test(plain)) return 'NAVD88';
  return /ellipsoid/.test(plain) ? 'ellipsoid' : 'unknown';
}
