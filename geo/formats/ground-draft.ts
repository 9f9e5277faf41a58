import type { VerticalReference } from '../frame/crs-types.ts';
import type { Grid } from '../raster/grid.ts';
import { placeBounds } from '../raster/place-bounds.ts';
import type { GroundTile } from './ground-tile.ts';
import type { GroundChoices, GroundDraft } from './opening.ts';

/** Earlier than any lidar or drone survey that is sold: such a date is a clock that was not set. */
const EARLIEST = '1990';

export interface DraftSource {
  readonly tiles: readonly Pick<GroundTile, 'name' | 'date' | 'stored' | 'beside'>[];
  readonly crsName: string;
  readonly vertical: VerticalReference;
  readonly sourceCellMeters: number | null;
  readonly notes: readonly string[];
}

/** The record of a ground but for its hash: what the files say, what the user said before that. */
export function draftOf(grid: Grid, choices: GroundChoices, from: DraftSource): GroundDraft {
  const { data: _, ...place } = grid;
  const [first, ...others] = from.tiles;
  const stem = first!.name.replace(/\.[^.]*$/, '') || first!.name;
  const date = choices.surveyedOn === undefined ? plausibleDate(from.tiles) : null;
  const notes = [...new Set(from.notes)];
  if (date !== null)
    notes.push(
      'The survey date is the date tag of the file: correct it if the flight was earlier.',
    );
  return {
    name: others.length === 0 ? stem : `${stem} and ${others.length} more`,
    place,
    bounds: placeBounds(place),
    surveyedOn: choices.surveyedOn === undefined ? date : choices.surveyedOn,
    clearing: choices.clearing ?? 'unknown',
    verticalErrorMeters: choices.verticalErrorMeters ?? null,
    vertical: from.vertical,
    sourceCrsName: from.crsName,
    sourceFiles: from.tiles.flatMap((tile) => [`${tile.name} (${tile.stored})`, ...tile.beside]),
    sourceCellMeters: from.sourceCellMeters ?? Math.sqrt(grid.cellGroundAreaSquareMeters),
    notes,
  };
}

/** Tiles of one flight carry one date, or nearly: the earliest. Null where a date is missing or silly. */
function plausibleDate(tiles: DraftSource['tiles']): string | null {
  const dates = tiles.map((tile) => tile.date);
  if (
    dates.some(
      (date) => date === null || !/^\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])$/.test(date),
    )
  )
    return null;
  const earliest = (dates as string[]).sort()[0]!;
  return earliest >= EARLIEST ? earliest : null;
}
