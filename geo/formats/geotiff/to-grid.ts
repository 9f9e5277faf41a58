import { extentProblem } from '../../frame/crs.ts';
import type { Frame, FrameDefinition, HorizontalCrs, LinearUnit } from '../../frame/crs-types.ts';
import { frameFor, openCrs, openFrame } from '../../frame/open-frame.ts';
import { metersPerUnit } from '../../frame/units.ts';
import { affineBounds, affinePoint, isNorthUp, type Affine } from '../../raster/affine.ts';
import { isOnEarth } from '../../raster/is-on-earth.ts';
import { makeGrid } from '../../raster/make-grid.ts';
import type { Grid } from '../../raster/grid.ts';
import { resampleBilinear } from '../../raster/resample-bilinear.ts';
import { rowsPerBand } from '../../raster/row-bands.ts';
import { ok, problem, type Result } from '../../result.ts';
import type { Work } from '../../work.ts';
import { fitShape } from './fit-shape.ts';
import type { RasterHeader } from './raster-header.ts';
import { MOST_CELLS, type RawElevation } from './read-elevation.ts';

/** What a raster of any format says of its place and heights. */
export type StatedPlace = Pick<RasterHeader, 'name' | 'crs' | 'vertical'>;

export interface GridChoices {
  /** What the user said of a file that does not say it itself. */
  readonly crs?: HorizontalCrs;
  readonly verticalUnit?: LinearUnit;
  /** The site's frame; where none is given the file's own system, or the one that suits its place. */
  readonly frame?: FrameDefinition;
}

export interface PlacedGrid {
  readonly grid: Grid;
  readonly crs: HorizontalCrs;
  readonly notes: readonly string[];
}

/**
 * Heights as read become a `Grid` of metres in the site frame. `raw.data` is taken over and may be
 * changed. Cells keep their numbers where the file is projected, square to the frame and in its
 * system (feet only scale the affine, a file that runs northward is turned over); else they are
 * resampled at the same cell area (see `resampleBilinear`).
 *
 * Problems: no or refused coordinate system, vertical unit unknown, coordinates that cannot be what
 * the system says, more than `MOST_CELLS` cells after turning.
 */
export function* toGrid(
  header: StatedPlace,
  raw: RawElevation,
  choices: GridChoices = {},
): Work<Result<PlacedGrid>> {
  const known: Result<HorizontalCrs> = choices.crs ? ok(choices.crs) : header.crs;
  if (!known.ok) return known;
  const crs = known.value;
  const misplaced = extentProblem(crs, affineBounds(raw.affine, raw.width, raw.height));
  if (misplaced) return { ok: false, problem: { ...misplaced, where: header.name } };
  const unit = choices.verticalUnit ?? header.vertical.unit;
  if (unit === null) {
    return problem(
      'vertical-unit-unknown',
      'The file does not say whether its heights are metres or feet.',
      'Say which one it is; the metadata or the web page of the survey names it.',
      header.name,
    );
  }
  const notes = [...raw.notes];
  if (unit !== 'metre') notes.push(`Heights turned from ${UNIT_WORDS[unit]} into metres.`);

  const own = ownFrameOf(crs, raw);
  if (!own) return nowhere(header, crs);
  const definition = choices.frame ?? own;
  const frame = openFrame(definition);
  const inMeters = crs.unit === 'degree' ? null : scaled(raw.affine, metersPerUnit(crs.unit));
  const sameFrame =
    crs.kind === 'projected' && inMeters !== null && samePlane(own, definition, inMeters, raw);

  if (sameFrame && (isNorthUp(inMeters) || isSouthUp(inMeters))) {
    const southUp = isSouthUp(inMeters);
    const shape = {
      width: raw.width,
      height: raw.height,
      west: inMeters.c,
      north: southUp ? inMeters.f + raw.height * inMeters.e : inMeters.f,
      cellWidth: inMeters.a,
      cellHeight: Math.abs(inMeters.e),
    };
    if (!isOnEarth(shape, frame)) return nowhere(header, crs);
    yield* finishHeights(raw, metersPerUnit(unit), southUp);
    return ok({ grid: makeGrid(shape, raw.data, frame), crs, notes });
  }
  yield* finishHeights(raw, metersPerUnit(unit), false);
  return yield* fitted(header, raw, crs, frame, notes);
}

const UNIT_WORDS = { 'us-survey-foot': 'US survey feet', 'international-foot': 'feet' } as const;

function* fitted(
  header: StatedPlace,
  raw: RawElevation,
  crs: HorizontalCrs,
  frame: Frame,
  notes: string[],
): Work<Result<PlacedGrid>> {
  const fit = fitShape(raw, crs, frame);
  if (!fit) return nowhere(header, crs);
  const { shape } = fit;
  if (shape.width * shape.height > MOST_CELLS) {
    return problem(
      'window-needed',
      `Turned into the site's own map the survey would have ${shape.width} × ${shape.height} cells, more than fit.`,
      'Choose a smaller part of the survey around your ground.',
      header.name,
    );
  }
  if (!isOnEarth(shape, frame)) return nowhere(header, crs);
  const data = yield* resampleBilinear(raw, fit.toSource, shape.width, shape.height);
  notes.push(
    `Resampled (bilinear) from ${crs.name} into ${frame.definition.name} at ${shape.cellWidth.toFixed(3)} m.`,
  );
  return ok({ grid: makeGrid(shape, data, frame), crs, notes });
}

/** Metres, and rows from north to south, in place. */
function* finishHeights(raw: RawElevation, metersPerOne: number, turnOver: boolean): Work<void> {
  const { data, width, height } = raw;
  const band = rowsPerBand(width);
  const row = new Float32Array(width);
  for (let top = 0; top < height; top += band) {
    const end = Math.min(height, top + band);
    if (metersPerOne !== 1) {
      for (let i = top * width; i < end * width; i++) data[i] *= metersPerOne;
    }
    yield { share: end / height, doing: 'Turning heights into metres' };
  }
  if (!turnOver) return;
  for (let top = 0, bottom = height - 1; top < bottom; top++, bottom--) {
    row.set(data.subarray(top * width, (top + 1) * width));
    data.copyWithin(top * width, bottom * width, (bottom + 1) * width);
    data.set(row, bottom * width);
    if (top % band === 0) yield { share: (2 * top) / height, doing: 'Turning rows over' };
  }
}

function ownFrameOf(crs: HorizontalCrs, raw: RawElevation): FrameDefinition | null {
  try {
    return frameFor(crs, ...openCrs(crs).toLngLat(...middleOf(raw)));
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}

function nowhere(header: StatedPlace, crs: HorizontalCrs): Result<never> {
  return problem(
    'placement-impossible',
    `The coordinates of the file have no place on the earth in ${crs.name}.`,
    'Choose the coordinate system that the survey was delivered in, or open another copy.',
    header.name,
  );
}

/**
 * Whether two frames give the same coordinates to 1 mm at the raster's corners and centre: NAD83 and
 * WGS84 are taken as one, and false origins of a foot system and its metric twin may be rounded apart.
 */
function samePlane(a: FrameDefinition, b: FrameDefinition, inMeters: Affine, raw: RawElevation) {
  if (a.proj === b.proj) return true;
  const from = openFrame(a);
  const to = openFrame(b);
  const { width, height } = raw;
  const points = [
    [0, 0],
    [width, 0],
    [0, height],
    [width, height],
    [width / 2, height / 2],
  ];
  try {
    return points.every(([column, row]) => {
      const [x, y] = affinePoint(inMeters, column, row);
      const [u, v] = to.fromLngLat(...from.toLngLat(x, y));
      return Math.hypot(u - x, v - y) < 1e-3;
    });
  } catch (error) {
    if (error instanceof RangeError) return false;
    throw error;
  }
}

function middleOf(raw: RawElevation): [number, number] {
  return affinePoint(raw.affine, raw.width / 2, raw.height / 2);
}

function scaled(t: Affine, k: number): Affine {
  return { a: t.a * k, b: t.b * k, c: t.c * k, d: t.d * k, e: t.e * k, f: t.f * k };
}

function isSouthUp(t: Affine): boolean {
  return t.b === 0 && t.d === 0 && t.a > 0 && t.e > 0;
}
