import { counted } from './count-words.ts';
import type { TidyTally } from './tidy-part.ts';

/** What was put right or left out of a file, in plain sentences; none where nothing was. */
export function tidyNotes(file: string, tally: TidyTally): string[] {
  const notes: string[] = [];
  const say = (count: number, one: string, many: string, rest: string) => {
    if (count > 0) notes.push(`${file}: ${counted(count, one, many)} ${rest}`);
  };
  say(tally.unclosedRings, 'outline', 'outlines', 'not closed and closed with a straight line.');
  say(tally.repeatedPoints, 'point', 'points', 'given twice in a row and taken once.');
  say(tally.strayPoints, 'track point', 'track points', 'off the earth and left out.');
  say(tally.outOfRange, 'shape', 'shapes', 'left out: coordinates beyond ±180° or ±90°.');
  say(tally.tooFew, 'shape', 'shapes', 'left out: too few different points.');
  say(tally.lostHoles, 'hole', 'holes', 'left out: too few different points.');
  return notes;
}
