import { problem } from '../result.ts';
import type { Result } from '../result.ts';

/** Why a coordinate system is not taken: one sentence what, one sentence the way out. */

const REEXPORT =
  'Re-export it in NAD83 or WGS84, as UTM, state plane or longitude and latitude, and open it again.';

export function refuseMissing(): Result<never> {
  return problem(
    'crs-missing',
    'The file does not say what coordinate system it is in.',
    'Name the system (an EPSG code such as 26915), or add the .prj file that belongs beside it.',
  );
}

export function refuseNad27(): Result<never> {
  return problem(
    'crs-nad27',
    'The file is in NAD27, the datum from before 1983, and would land tens of yards off.',
    'Re-export it in NAD83 with a program that applies the NADCON shift, and open it again.',
  );
}

export function refuseDatum(name: string): Result<never> {
  const datum = name === '' ? 'no datum that it names' : `the datum "${name}", not NAD83 or WGS84`;
  return problem('crs-datum-unknown', `The file’s coordinates stand on ${datum}.`, REEXPORT);
}

export function refuseMeridian(): Result<never> {
  return problem(
    'crs-meridian',
    'The file counts longitudes from somewhere other than Greenwich.',
    REEXPORT,
  );
}

export function refuseLocal(): Result<never> {
  return problem(
    'crs-local',
    'The file is in a local site grid that is tied to no place on the map.',
    'Re-export it in state plane or UTM; the surveyor who set the local grid has the tie.',
  );
}

export function refuseGeocentric(): Result<never> {
  return problem(
    'crs-geocentric',
    'The file’s coordinates are measured from the centre of the earth, not east and north.',
    REEXPORT,
  );
}

export function refuseMethod(method: string): Result<never> {
  return problem(
    'crs-projection-unknown',
    method === ''
      ? 'The file’s map projection is not named.'
      : `The file’s map projection "${method}" is not one that can be read here.`,
    REEXPORT,
  );
}

export function refuseLinearUnit(unit: string): Result<never> {
  return problem(
    'crs-unit-unknown',
    unit === ''
      ? 'The file does not say whether its coordinates are metres or feet.'
      : `The file’s coordinates are in "${unit}", not metres, feet or US survey feet.`,
    'Re-export it in metres, US survey feet or international feet, and open it again.',
  );
}

export function refuseAngularUnit(): Result<never> {
  return problem(
    'crs-angle-unknown',
    'The file gives longitude and latitude in something other than degrees.',
    'Re-export it in decimal degrees, and open it again.',
  );
}

export function refuseCode(code: number): Result<never> {
  return problem(
    'crs-code-unknown',
    `The file is in the coordinate system EPSG ${code}, which cannot be read here.`,
    REEXPORT,
  );
}

export function refuseContradiction(code: number, name: string): Result<never> {
  return problem(
    'crs-contradiction',
    `The file names EPSG ${code} (${name}), but the numbers it gives describe another system.`,
    'Find out which one is right, and re-export it or name the system when you open it.',
  );
}

export function refuseText(): Result<never> {
  return problem(
    'crs-unreadable',
    'The text that should describe the coordinate system cannot be read.',
    'Name the system by its EPSG code, such as 26915, or re-export the file.',
  );
}
