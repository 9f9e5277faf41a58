/** Colours of the sheet, from the look-and-feel notes; colours mark, ink writes. */

export const paper = '#f7f5ee';
export const ink = '#1d2a28';
/** The one accent: what is selected, what to do next. */
export const flag = '#a3195b';
export const earth = '#6b5a3e';
export const leaf = '#2f6b3c';
/** Leaf dark enough to write with: 9 to 1 on paper. */
export const leafText = '#1f4f2b';
/** Deepest water, dark enough to write with: 9 to 1 on paper. */
export const waterText = '#123f63';
/** Contour lines, as on printed quadrangles. */
export const contourBrown = '#5a4227';
/** Contour elevations: over 10 to 1 on paper. */
export const contourText = '#4a3419';

/** Depth of standing water, shallow to deep, in even steps of lightness. */
export const waterRamp = ['#dbe9f0', '#abc5d7', '#7ca1be', '#4f7fa5', '#1b5e8c'] as const;

/**
 * Elevation, low to high: lightness L* climbs by 6.5 a step (a test holds it), so it reads in grey
 * and to colour-blind eyes.
 */
export const elevationRamp = [
  '#6f979c',
  '#87a999',
  '#a7b997',
  '#c9c79e',
  '#e4d6b2',
  '#f3e8d3',
] as const;

export type Rgb = readonly [number, number, number];

/** '#1d2a28' -> [29, 42, 40]. Throws RangeError on anything but six hexadecimal digits. */
export function rgb(hex: string): Rgb {
  if (!/^#[0-9a-f]{6}$/i.test(hex)) throw new RangeError(`Not a colour of six digits: ${hex}.`);
  const n = Number.parseInt(hex.slice(1), 16);
  return [n >> 16, (n >> 8) & 255, n & 255];
}
