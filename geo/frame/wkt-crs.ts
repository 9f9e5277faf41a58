import { ok } from '../result.ts';
import * as refuse from './crs-refusals.ts';
import { isModernEllipsoid, realisationFromName } from './realisation.ts';
import { projectionFromWkt } from './wkt-projection.ts';
import { child, epsgOf, nameOf, numberAt, parseWkt } from './wkt-tree.ts';
import type { Result } from '../result.ts';
import type { CrsReading } from './crs-reading.ts';
import type { Realisation } from './realisation.ts';
import type { WktNode } from './wkt-tree.ts';

const PROJECTED = ['PROJCS', 'PROJCRS', 'PROJECTEDCRS'];
const GEOGRAPHIC = ['GEOGCS', 'GEOGCRS', 'GEOGRAPHICCRS', 'GEODCRS', 'GEODETICCRS'];
const BASE = ['GEOGCS', 'BASEGEOGCRS', 'BASEGEODCRS'];
const LOCAL = ['LOCAL_CS', 'ENGCRS', 'ENGINEERINGCRS', 'ENGINEERCRS'];
const DEGREE = Math.PI / 180;

/**
 * Reads the horizontal part of well-known text: WKT1 of OGC or ESRI (.prj), WKT2, alone or as the
 * first part of a compound or bound system.
 */
export function readWktCrs(text: string): Result<CrsReading> {
  const roots = parseWkt(text.trim());
  if (!roots) return refuse.refuseText();
  const crs = horizontalNode(roots[0]!);
  if (PROJECTED.includes(crs.keyword)) return readProjected(crs);
  if (GEOGRAPHIC.includes(crs.keyword)) return readGeographic(crs);
  if (crs.keyword === 'GEOCCS') return refuse.refuseGeocentric();
  if (LOCAL.includes(crs.keyword)) return refuse.refuseLocal();
  return refuse.refuseText();
}

function horizontalNode(root: WktNode): WktNode {
  const wrapped =
    root.keyword === 'BOUNDCRS'
      ? child(root, 'SOURCECRS')?.nodes[0]
      : root.keyword === 'COMPD_CS' || root.keyword === 'COMPOUNDCRS'
        ? root.nodes[0]
        : undefined;
  return wrapped ? horizontalNode(wrapped) : root;
}

function readProjected(crs: WktNode): Result<CrsReading> {
  const reading = projectionFromWkt(crs);
  if (reading.kind === 'web-mercator') return ok({ kind: 'web-mercator' });
  const base = child(crs, ...BASE);
  const datum = base ? readDatum(base) : refuse.refuseDatum('');
  if (!datum.ok) return datum;
  if (reading.kind === 'unknown-method') return refuse.refuseMethod(reading.method);
  if (reading.kind === 'unknown-unit') return refuse.refuseLinearUnit(reading.unit);
  return ok({
    kind: 'projected',
    epsg: epsgOf(crs),
    name: nameOf(crs),
    realisation: datum.value,
    projection: reading.projection,
  });
}

function readGeographic(crs: WktNode): Result<CrsReading> {
  const system = child(crs, 'CS');
  if (/^cartesian$/i.test(nameOf(system))) return refuse.refuseGeocentric();
  const datum = readDatum(crs);
  if (!datum.ok) return datum;
  return ok({ kind: 'geographic', epsg: epsgOf(crs), realisation: datum.value });
}

function readDatum(geographic: WktNode): Result<Realisation> {
  const datum = child(geographic, 'DATUM', 'ENSEMBLE', 'TRF', 'GEODETICDATUM');
  const name = nameOf(datum);
  const anonymous = /^(d_)?(unknown|not[ _]?specified|unnamed)|^$/i.test(name);
  const realisation = finer(
    anonymous ? null : realisationFromName(name),
    realisationFromName(nameOf(geographic)),
    anonymous,
  );
  if (realisation === 'NAD27') return refuse.refuseNad27();
  if (realisation === null) return refuse.refuseDatum(anonymous ? '' : name);

  const ellipsoid = datum && child(datum, 'SPHEROID', 'ELLIPSOID');
  if (ellipsoid && !isModernEllipsoid(numberAt(ellipsoid, 1), numberAt(ellipsoid, 2))) {
    return refuse.refuseDatum(name);
  }
  const meridian = child(geographic, 'PRIMEM', 'PRIMEMERIDIAN');
  if (meridian && numberAt(meridian, 1) !== 0) return refuse.refuseMeridian();
  const unit = child(geographic, 'UNIT', 'ANGLEUNIT') ?? angleUnitOfAxis(geographic);
  if (unit && Math.abs(numberAt(unit, 1) / DEGREE - 1) > 1e-9) return refuse.refuseAngularUnit();
  return ok(realisation);
}

// A datum's name tells the family, the system's name sometimes the adjustment within it.
function finer(
  fromDatum: Realisation | 'NAD27' | null,
  fromSystem: Realisation | 'NAD27' | null,
  anonymous: boolean,
): Realisation | 'NAD27' | null {
  if (anonymous) return fromSystem;
  const refinable = fromDatum === 'NAD83' && fromSystem?.startsWith('NAD83');
  return refinable ? fromSystem : fromDatum;
}

function angleUnitOfAxis(geographic: WktNode): WktNode | undefined {
  const axis = child(geographic, 'AXIS');
  return axis && child(axis, 'ANGLEUNIT', 'UNIT');
}
