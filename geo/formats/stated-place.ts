import { crsFromEpsg } from '../frame/crs.ts';
import type { HorizontalCrs, VerticalReference } from '../frame/crs-types.ts';
import type { GroundTile } from './ground-tile.ts';
import { refused, type GroundChoices, type OpenedGround } from './opening.ts';

/** A missing or unreadable system can be named by the user; a refused datum cannot be talked away. */
const CAN_BE_NAMED = new Set([
  'crs-missing',
  'crs-unreadable',
  'crs-local',
  'crs-code-unknown',
  'crs-contradiction',
  'crs-unit-unknown',
  'crs-projection-unknown',
  'degrees-taken-for-metres',
  'metres-taken-for-degrees',
]);

type Stated = Pick<GroundTile, 'name' | 'crs' | 'vertical'>;

/** The system of a file: what the user named, else what the file says, else the question. A refused
 * datum stays refused. */
export function systemOf(
  tile: Stated,
  choices: GroundChoices,
): { value: HorizontalCrs } | OpenedGround {
  if (!tile.crs.ok && !CAN_BE_NAMED.has(tile.crs.problem.code)) {
    return refused({ ...tile.crs.problem, where: tile.name });
  }
  if (choices.epsg !== undefined) {
    const chosen = crsFromEpsg(choices.epsg);
    return chosen.ok ? { value: chosen.value } : refused(chosen.problem);
  }
  if (tile.crs.ok) return { value: tile.crs.value };
  return { kind: 'ask', question: 'crs', why: `${tile.name}: ${tile.crs.problem.what}` };
}

export interface StatedVertical {
  readonly value: VerticalReference;
  readonly notes: readonly string[];
}

/** The one height unit of all files: named by the user, stated by the files, else the question. */

export function verticalOf(
  tiles: readonly Stated[],
  choices: GroundChoices,
): StatedVertical | OpenedGround {
  const chosen = choices.verticalUnit;
  const stated = tiles.find((tile) => tile.vertical.unit !== null)?.vertical ?? tiles[0]!.vertical;
  if (chosen !== undefined) {
    const against = stated.unit !== null && stated.unit !== chosen;
    const notes = against
      ? ['The height unit was named by hand and is not the one that the file says.']
      : [];
    return { value: { ...stated, unit: chosen }, notes };
  }
  const other = tiles.find((tile) => tile.vertical.unit !== stated.unit);
  if (stated.unit === null || (other && other.vertical.unit === null)) {
    const silent = stated.unit === null ? tiles[0]! : other!;
    const why = `${silent.name} does not say whether its heights are metres or feet.`;
    return { kind: 'ask', question: 'vertical-unit', why };
  }
  if (other) {
    const what = 'This tile has its heights in another unit than the first one.';
    const wayOut = 'Open tiles of one survey together, or each as a ground of its own.';
    return refused({ code: 'tiles-differ-in-unit', what, wayOut, where: other.name });
  }
  return { value: stated, notes: [] };
}
