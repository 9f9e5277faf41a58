/** International foot in metres, exact. */
const footMeters = 0.3048;

export interface ScaleLength {
  /** Number at the bar's end, in its own unit. */
  readonly count: number;
  readonly unit: 'ft' | 'mi' | 'm' | 'km';
  readonly pixels: number;
}

/** A statute mile is 5,280 international feet. */
const footPerMile = 5280;

/** The longest round length that fits in `room` pixels: 1, 2 or 5 times a power of ten. */
export function feetScale(metersPerPixel: number, room: number): ScaleLength {
  const feet = (metersPerPixel * room) / footMeters;
  if (feet >= footPerMile) {
    const count = roundDown(feet / footPerMile);
    return { count, unit: 'mi', pixels: (count * footPerMile * footMeters) / metersPerPixel };
  }
  const count = roundDown(feet);
  return { count, unit: 'ft', pixels: (count * footMeters) / metersPerPixel };
}

export function meterScale(metersPerPixel: number, room: number): ScaleLength {
  const meters = metersPerPixel * room;
  if (meters >= 1000) {
    const count = roundDown(meters / 1000);
    return { count, unit: 'km', pixels: (count * 1000) / metersPerPixel };
  }
  const count = roundDown(meters);
  return { count, unit: 'm', pixels: count / metersPerPixel };
}

function roundDown(value: number): number {
  const power = 10 ** Math.floor(Math.log10(value));
  const digit = value / power;
  return power * (digit >= 5 ? 5 : digit >= 2 ? 2 : 1);
}
