import { problem, ok, type Result } from '../result.ts';
import { badNumber, notAboveZero } from './check-numbers.ts';
import type { SpeciesGroup, TallyRow } from './timber-mass.ts';

/** More wood on the ground than any stand has, m² of stem section on a hectare: 520 ft²/ac; common practice, no source. */
const MOST_BASAL_AREA = 120;
/** 20,000 an acre: a thicket of whips; common practice, no source. */
const MOST_STEMS = 49_421;
const THICKEST = 3;

/** Square metres of stem section at breast height on a hectare. 100 stems of 0.2 m have 3.14. */
export function basalArea(rows: readonly TallyRow[]): number {
  return rows.reduce((sum, row) => sum + row.stemsPerHectare * stemArea(row.diameterMeters), 0);
}

/**
 * The tally itself where it can be worked with. Problems: no trees (`tally-empty`), a value that is
 * no number, and more trees or more wood than can stand on the ground, which mostly means that
 * another unit was typed: `tally-diameter-unit` where centimetres taken for inches explain it,
 * else `tally-too-dense`.
 */
export function checkTally(rows: readonly TallyRow[]): Result<readonly TallyRow[]> {
  for (const { diameterMeters, stemsPerHectare, soldShare } of rows) {
    const bad =
      badNumber({ 'tree diameter in metres': diameterMeters }, 0, THICKEST, true) ??
      badNumber({ 'number of stems per hectare': stemsPerHectare }, 0, 1e6) ??
      badNumber({ 'share sold': soldShare }, 0, 1);
    if (bad) return bad;
  }
  const stems = rows.reduce((sum, row) => sum + row.stemsPerHectare, 0);
  if (stems === 0) {
    return problem(
      'tally-empty',
      'The tally has no trees.',
      'Count a strip, or type in stems per acre by diameter.',
    );
  }
  const area = basalArea(rows);
  if (stems <= MOST_STEMS && area <= MOST_BASAL_AREA) return ok(rows);
  // An inch is 2.54 cm, and section goes with the square of the diameter.
  if (stems <= MOST_STEMS && area / 2.54 ** 2 <= MOST_BASAL_AREA) {
    return problem(
      'tally-diameter-unit',
      'The trees are thicker than can stand so close: were centimetres typed as inches?',
      'Say which unit the diameters were taken in.',
    );
  }
  return problem(
    'tally-too-dense',
    'The tally has more trees than can stand on that ground.',
    'Say whether the count is per acre, per hectare or for the whole block.',
  );
}

/**
 * A row from basal area (m² a hectare) and the quadratic mean diameter (metres): stems are the one
 * over the section of the mean tree.
 * Example: 20 m²/ha of 0.25 m is 407 stems a hectare.
 */
export function rowFromBasalArea(
  speciesGroup: SpeciesGroup,
  basalAreaPerHectare: number,
  meanDiameterMeters: number,
  soldShare = 0,
): Result<TallyRow> {
  const bad = notAboveZero({ 'basal area': basalAreaPerHectare, 'mean diameter': meanDiameterMeters }); // prettier-ignore
  if (bad) return bad;
  const stemsPerHectare = basalAreaPerHectare / stemArea(meanDiameterMeters);
  return one({ speciesGroup, diameterMeters: meanDiameterMeters, stemsPerHectare, soldShare });
}

export interface StripCount {
  readonly speciesGroup: SpeciesGroup;
  readonly diameterMeters: number;
  readonly count: number;
  readonly soldShare?: number;
}

export interface StripTally {
  readonly rows: readonly TallyRow[];
  /** Twice the chance spread of a count of so many trees over all of them: 2/√n. */
  readonly countErrorShare: number;
}

/**
 * A tally walked on a strip (metres), such as 100 m × 10 m, a tenth of a hectare (handbook §4.2).
 * Example: 12 stems on it are 120 a hectare, give or take 58 %.
 */
export function rowsFromStrip(
  counts: readonly StripCount[],
  lengthMeters: number,
  widthMeters: number,
): Result<StripTally> {
  const bad =
    notAboveZero({ 'strip length': lengthMeters, 'strip width': widthMeters }) ??
    badNumber(Object.fromEntries(counts.map((c, i) => [`count in row ${i + 1}`, c.count])), 0, 1e6);
  if (bad) return bad;
  const perHectare = 10_000 / (lengthMeters * widthMeters);
  const checked = checkTally(
    counts.map(({ speciesGroup, diameterMeters, count, soldShare = 0 }) => {
      return { speciesGroup, diameterMeters, stemsPerHectare: count * perHectare, soldShare };
    }),
  );
  if (!checked.ok) return checked;
  const counted = counts.reduce((sum, { count }) => sum + count, 0);
  return ok({ rows: checked.value, countErrorShare: 2 / Math.sqrt(counted) });
}

function one(row: TallyRow): Result<TallyRow> {
  const checked = checkTally([row]);
  return checked.ok ? ok(checked.value[0]!) : checked;
}

function stemArea(diameterMeters: number): number {
  return (Math.PI * diameterMeters * diameterMeters) / 4;
}
