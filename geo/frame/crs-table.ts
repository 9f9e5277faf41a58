import { sameProjection, utmProjection } from './projection.ts';
import { REALISATIONS } from './realisation.ts';
import { COMPOUND_ROWS, CRS_ROWS, NAD27_RANGES } from './table/crs-rows.ts';
import { completeProjection } from './wkt-projection.ts';
import type { LinearUnit } from './crs-types.ts';
import type { Projection, ProjectionMethod } from './projection.ts';
import type { Realisation } from './realisation.ts';

/** A projected system of the table. */
export interface TableSystem {
  readonly epsg: number;
  readonly name: string;
  /** The name without datum and unit, e.g. "California zone 5". */
  readonly title: string;
  readonly realisation: Realisation;
  readonly projection: Projection;
}

/** The two-dimensional geographic code of each datum. */
const GEOGRAPHIC_CODE: Readonly<Record<Realisation, number>> = {
  'WGS 84': 4326,
  NAD83: 4269,
  'NAD83(HARN)': 4152,
  'NAD83(NSRS2007)': 4759,
  'NAD83(CORS96)': 6783,
  'NAD83(2011)': 6318,
  'NAD83(PA11)': 6322,
  'NAD83(MA11)': 6325,
  'NAD83(CSRS)': 4617,
};

/** Their three-dimensional twins, and the later realisations of WGS84 itself (Transit to G2139). */
const OTHER_GEOGRAPHIC: Readonly<Record<number, Realisation>> = {
  4979: 'WGS 84',
  4957: 'NAD83(HARN)',
  4893: 'NAD83(NSRS2007)',
  6782: 'NAD83(CORS96)',
  6319: 'NAD83(2011)',
  6321: 'NAD83(PA11)',
  6324: 'NAD83(MA11)',
  4955: 'NAD83(CSRS)',
  8888: 'WGS 84',
  9053: 'WGS 84',
  9054: 'WGS 84',
  9055: 'WGS 84',
  9056: 'WGS 84',
  9057: 'WGS 84',
  9755: 'WGS 84',
};

const METHOD: Readonly<Record<string, ProjectionMethod>> = {
  T: 'transverse-mercator',
  L: 'lambert-conic',
  A: 'albers-conic',
  O: 'oblique-mercator-a',
  P: 'oblique-mercator-b',
};
const UNIT: Readonly<Record<string, LinearUnit>> = {
  m: 'metre',
  s: 'us-survey-foot',
  f: 'international-foot',
};
const UNIT_MARK: Readonly<Record<LinearUnit, string>> = {
  metre: '',
  'us-survey-foot': ' (ftUS)',
  'international-foot': ' (ft)',
};

let byCode: Map<number, TableSystem> | undefined;

// Read on first use: the page that never opens a file never pays for it (about 5 ms).
function systems(): Map<number, TableSystem> {
  return (byCode ??= new Map(CRS_ROWS.trim().split('\n').flatMap(readRow)));
}

/** Every projected system of the table. */
export function tableSystems(): readonly TableSystem[] {
  return [...systems().values()];
}

function readRow(row: string): [number, TableSystem][] {
  const [title, numbers, ...groups] = row.split('|') as [string, string, ...string[]];
  return groups.flatMap((group) => {
    const [origin, codes] = group.split(':') as [string, string];
    const projection = readProjection(numbers, origin);
    return codes.split(',').flatMap((code, i): [number, TableSystem][] => {
      if (code === '') return [];
      const realisation = REALISATIONS[i]!;
      const name = `${realisation} / ${title}${UNIT_MARK[projection.unit]}`;
      return [[Number(code), { epsg: Number(code), name, title, realisation, projection }]];
    });
  });
}

function readProjection(numbers: string, origin: string): Projection {
  const method = METHOD[numbers[0]!]!;
  const [lat0, lon0, third, fourth, fifth] = numbers.slice(1).split(' ').map(Number);
  const [falseEasting, falseNorthing] = origin.slice(1).split(' ').map(Number);
  const unit = UNIT[origin[0]!]!;
  const base = {
    lat0: lat0!,
    lon0: lon0!,
    falseEasting: falseEasting!,
    falseNorthing: falseNorthing!,
  };
  if (method === 'transverse-mercator') {
    return completeProjection(method, { ...base, scale: third! }, unit);
  }
  if (method === 'lambert-conic' || method === 'albers-conic') {
    const given = { ...base, lat1: third!, lat2: fourth!, scale: fifth ?? 1 };
    return completeProjection(method, given, unit);
  }
  const given = { ...base, azimuth: third!, gridAngle: fourth!, scale: fifth! };
  return completeProjection(method, given, unit);
}

/**
 * The projected system with an EPSG code, or null where the table does not hold it. 26915 gives
 * "NAD83 / UTM zone 15N". WGS84's UTM zones (326zz, 327zz) follow from their rule.
 */
export function systemByCode(epsg: number): TableSystem | null {
  const zone = epsg % 100;
  const hundreds = Math.floor(epsg / 100);
  if ((hundreds === 326 || hundreds === 327) && zone >= 1 && zone <= 60) {
    const south = hundreds === 327;
    const title = `UTM zone ${zone}${south ? 'S' : 'N'}`;
    const projection = utmProjection(zone, south);
    return { epsg, name: `WGS 84 / ${title}`, title, realisation: 'WGS 84', projection };
  }
  return systems().get(epsg) ?? null;
}

/**
 * The system with this projection on this datum, by its numbers; null where none has a code. A few
 * zones are one projection under two codes (New Jersey and New York East): the name decides.
 */
export function systemByProjection(
  realisation: Realisation,
  projection: Projection,
  name = '',
): TableSystem | null {
  if (realisation === 'WGS 84') {
    const zone = Math.round((projection.lon0 + 183) / 6);
    if (zone < 1 || zone > 60) return null;
    const code = (projection.falseNorthing > 5_000_000 ? 32_700 : 32_600) + zone;
    const system = systemByCode(code)!;
    return sameProjection(system.projection, projection) ? system : null;
  }
  let first: TableSystem | null = null;
  const letters = lettersOf(name);
  for (const system of systems().values()) {
    if (system.realisation !== realisation) continue;
    if (!sameProjection(system.projection, projection)) continue;
    if (letters.includes(lettersOf(system.title))) return system;
    first ??= system;
  }
  return first;
}

function lettersOf(name: string): string {
  return name.toLowerCase().replace(/[^a-z0-9]/g, '');
}

/** The system of that exact name, as EPSG spells it; null where there is none. */
export function systemByName(name: string): TableSystem | null {
  const utm = /^WGS 84 \/ UTM zone (\d{1,2})([NS])$/.exec(name);
  if (utm) return systemByCode((utm[2] === 'S' ? 32_700 : 32_600) + Number(utm[1]));
  const plain = name.replace(/ \(m\)$/, '');
  for (const system of systems().values()) if (system.name === plain) return system;
  return null;
}

/** The datum of a geographic EPSG code, or null. 4269 gives 'NAD83'. */
export function geographicByCode(epsg: number): Realisation | null {
  const plane = REALISATIONS.find((realisation) => GEOGRAPHIC_CODE[realisation] === epsg);
  return plane ?? OTHER_GEOGRAPHIC[epsg] ?? null;
}

/** The two-dimensional geographic EPSG code of a datum. 'NAD83(2011)' gives 6318. */
export function geographicCodeOf(realisation: Realisation): number {
  return GEOGRAPHIC_CODE[realisation];
}

/** Horizontal and vertical code of a compound EPSG code, or null. 6349 gives 6318 and 5703. */
export function compoundByCode(epsg: number): { horizontal: number; vertical: number } | null {
  const row = new RegExp(`^${epsg} (\\d+) (\\d+)$`, 'm').exec(COMPOUND_ROWS);
  return row && { horizontal: Number(row[1]), vertical: Number(row[2]) };
}

/** Whether an EPSG code stands on NAD27. */
export function isNad27Code(epsg: number): boolean {
  return NAD27_RANGES.split(' ').some((range) => {
    const [first, last] = range.split('-').map(Number);
    return epsg >= first! && epsg <= (last ?? first!);
  });
}
