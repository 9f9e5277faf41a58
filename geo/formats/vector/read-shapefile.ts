import { crsFromWkt } from '../../frame/crs.ts';
import { refuseMissing } from '../../frame/crs-refusals.ts';
import type { Work } from '../../work.ts';
import { counted } from './count-words.ts';
import { readDbf } from './read-dbf.ts';
import { readShp } from './read-shp.ts';
import type { RawFeature, RawLayer } from './raw-feature.ts';
import type { Limits } from './vector-error.ts';

/** The files of one shapefile; only the shapes themselves must be there. */
export interface ShapefileParts {
  /** Name without ending. */
  readonly stem: string;
  readonly shp: Uint8Array;
  readonly dbf: Uint8Array | null;
  readonly prj: string | null;
  readonly cpg: string | null;
}

/**
 * Reads one shapefile: shapes joined with the rows of their table, the system from the .prj. Null
 * shapes and deleted rows are left out with a note. The library `shpjs` is not used: it projects by
 * itself (no .prj would pass unasked, NAD27 unshifted), finds the outline of a hole by its box
 * alone, drops M shapes' extras by guesswork, unpacks zips without a limit and throws untyped errors
 * on damaged files.
 * Throws VectorError.
 */
export function* readShapefile(parts: ShapefileParts, limits: Limits): Work<RawLayer> {
  const file = `${parts.stem}.shp`;
  const { shapes, nullShapes, looseHoles, isCut } = yield* readShp(parts.shp, file, limits);
  const notes: string[] = [];
  if (isCut)
    notes.push(`${file} breaks off before its end; the whole shapes up to there were read.`);
  if (nullShapes > 0)
    notes.push(
      `${file}: ${counted(nullShapes, 'record', 'records')} without a shape and left out.`,
    );
  if (looseHoles > 0) {
    notes.push(
      `${file}: ${counted(looseHoles, 'ring', 'rings')} turned like a hole but lies in no outline, and was taken for one.`,
    );
  }
  const table =
    parts.dbf === null
      ? {
          rows: [],
          notes: [`${file} has no table (.dbf) beside it: shapes come without attributes.`],
        }
      : yield* readDbf(parts.dbf, parts.cpg, `${parts.stem}.dbf`);
  notes.push(...table.notes);
  const features: RawFeature[] = [];
  let deleted = 0;
  shapes.forEach((shape, i) => {
    const row = table.rows[i];
    if (row === null) deleted++;
    if (row === null || shape.length === 0) return;
    features.push({
      name: '',
      description: '',
      attributes: row ?? [],
      layer: parts.stem,
      sort: 'shape',
      parts: shape,
    });
  });
  if (deleted > 0)
    notes.push(`${file}: ${counted(deleted, 'deleted record', 'deleted records')} left out.`);
  return {
    file,
    format: 'shapefile',
    crs: parts.prj === null ? refuseMissing() : crsFromWkt(parts.prj),
    isFixed: false,
    heightUnit: 'unknown',
    features,
    notes,
  };
}
