/** Cross section of a drain notch: a flat bottom and two sides that a disk can cross. */
export interface NotchSection {
  readonly bottomWidthMeters: number;
  /** Metres out for a metre up. */
  readonly sideRun: number;
  /** Fall of the bottom along the notch, metres a metre. */
  readonly gradeRatio: number;
}

/** Bottom of 7 ft, sides 6 : 1, half a per cent of fall: common practice, no source. */
export const usualSection: NotchSection = {
  bottomWidthMeters: 7 * 0.3048,
  sideRun: 6,
  gradeRatio: 0.005,
};

/** Area cut off level ground, square metres: b h + s h². Example: 7 ft, 6 : 1, 0.6 m: 3.44 m². */
export function sectionArea(section: NotchSection, cutMeters: number): number {
  return (section.bottomWidthMeters + section.sideRun * cutMeters) * cutMeters;
}

/** Throws RangeError for a section that nothing can be cut to. */
export function checkSection({ bottomWidthMeters, sideRun, gradeRatio }: NotchSection): void {
  if (!(bottomWidthMeters > 0 && bottomWidthMeters < Infinity)) {
    throw new RangeError(`a bottom of ${bottomWidthMeters} m`);
  }
  if (!(sideRun >= 0 && sideRun < Infinity)) throw new RangeError(`sides of ${sideRun} to 1`);
  if (!(gradeRatio >= 0 && gradeRatio < Infinity)) throw new RangeError(`a grade of ${gradeRatio}`);
}
