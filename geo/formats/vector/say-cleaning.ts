import { acresFromSquareMeters, feetFromMeters } from '../../frame/units.ts';
import type { CleanedTrack } from './clean-track.ts';
import { counted } from './count-words.ts';

/**
 * What was done to a walked track and how good it is, in plain sentences, feet and metres both.
 * Example: "Positions are good to about 10–16 ft (3.0–4.9 m)."
 */
export function sayCleaning(track: CleanedTrack): string[] {
  const { removed, accuracy, area, closingGapMeters, crossesItself } = track;
  const said: string[] = [];
  if (removed.spikes > 0) {
    said.push(
      `${counted(removed.spikes, 'spike', 'spikes')} too far off to have been walked, and left out.`,
    );
  }
  if (removed.knots > 0) {
    const fixes = removed.knotFixes + removed.knots;
    said.push(
      `${counted(removed.knots, 'stop', 'stops')} drawn as a knot of ${fixes} points, and made one point each.`,
    );
  }
  if (removed.overlap > 0) {
    said.push(`${counted(removed.overlap, 'point', 'points')} walked past the start, and cut off.`);
  }
  if (removed.loops > 0) {
    said.push(
      `${counted(removed.loops, 'loop', 'loops')} narrower than positions are good to, where the walk crossed itself, and taken out.`,
    );
  }
  if (crossesItself) {
    said.push('The walk goes round more than one piece of ground, so its outline crosses itself.');
  }
  if (removed.jitter > 0) {
    said.push(`${counted(removed.jitter, 'point', 'points')} only wiggle, and straightened out.`);
  }
  if (closingGapMeters !== null) {
    said.push(`The outline was closed over a gap of ${length(closingGapMeters)}.`);
  }
  const { low, likely, high } = accuracy.positionErrorMeters;
  const from = accuracy.from === 'hdop' ? ', by the satellites that the receiver had' : '';
  said.push(
    `Positions are good to about ${feet(low)}–${feet(high)} ft (${low.toFixed(1)}–${high.toFixed(1)} m)${from}.`,
  );
  if (area) {
    const off = area.errorSquareMeters.likely;
    const percent = Math.round((100 * off) / area.squareMeters);
    said.push(
      `The area can be off by ${acresFromSquareMeters(off).toFixed(2)} ac (${percent} %) at most, with all of the edge ${feet(likely)} ft too far out or in.`,
    );
  }
  return said;
}

function length(meters: number): string {
  return `${feet(meters)} ft (${meters.toFixed(1)} m)`;
}

function feet(meters: number): string {
  return Math.round(feetFromMeters(meters)).toString();
}
