/** International foot in metres, exact. */
const footMeters = 0.3048;

/** Ticks along a berm or ditch: every 50 ft, or every 20 m. */
export function stationSpacingMeters(units: 'us' | 'metric'): number {
  return units === 'us' ? 50 * footMeters : 20;
}

/**
 * A station as it is written on a stake: hundreds of feet, a plus, the rest (150 ft is 1+50); in
 * metric, kilometres, a plus, metres (150 m is 0+150). Rounded to whole feet or metres.
 */
export function stationText(meters: number, units: 'us' | 'metric'): string {
  if (units === 'us') {
    const feet = Math.round(meters / footMeters);
    return `${Math.floor(feet / 100)}+${String(feet % 100).padStart(2, '0')}`;
  }
  const whole = Math.round(meters);
  return `${Math.floor(whole / 1000)}+${String(whole % 1000).padStart(3, '0')}`;
}
