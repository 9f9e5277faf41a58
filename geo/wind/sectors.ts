/** The points of the compass, clockwise from north; sector `i` of 16 is centred on `22.5 i` degrees. */
export const SECTORS = 16;
const WIDTH = 360 / SECTORS;

/**
 * Sector of a direction in degrees: floor((d + 11.25) / 22.5) mod 16 (handbook, section 7.5).
 * Throws RangeError for a direction that is not finite. 11.24 is 0 (N), 11.25 is 1 (NNE).
 */
export function sectorOf(degrees: number): number {
  if (!Number.isFinite(degrees)) throw new RangeError(`sectorOf: ${degrees}`);
  const sector = Math.floor((degrees + WIDTH / 2) / WIDTH) % SECTORS;
  return (sector + SECTORS) % SECTORS;
}

/**
 * Shares of 1 that a report in steps gives to each sector: a report of 10 degrees stands for 5 to
 * 15, of which five eighths are N. Without it, sectors of 22.5 degrees hold two or three tens each
 * and a rose shows lobes that no wind has. Calls `give` with one or two sectors.
 */
export function shareOut(
  degrees: number,
  stepDegrees: number,
  give: (sector: number, share: number) => void,
): void {
  const first = sectorOf(degrees - stepDegrees / 2);
  const edge = first * WIDTH + WIDTH / 2;
  // How far the report reaches past the far edge of the first sector.
  const past = degrees + stepDegrees / 2 - edge;
  const over = ((past % 360) + 360) % 360;
  if (stepDegrees <= 0 || over >= stepDegrees || over === 0) {
    give(first, 1);
    return;
  }
  give(first, 1 - over / stepDegrees);
  give((first + 1) % SECTORS, over / stepDegrees);
}

/** 10 where 99 of 100 directions of a record are whole tens (as airports report), else 0. */
export function reportingStep(fromDegrees: Float32Array): number {
  let [directions, tens] = [0, 0];
  for (const degrees of fromDegrees) {
    if (Number.isNaN(degrees)) continue;
    directions++;
    if (degrees % 10 === 0) tens++;
  }
  return directions > 0 && tens >= 0.99 * directions ? 10 : 0;
}
