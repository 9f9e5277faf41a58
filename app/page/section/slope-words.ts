import { slopeQuantity, spoken } from '../../words/format.ts';

/** "falls 3.2 %", in the direction of the stations. */
export function slopeWords(slope: number): string {
  if (Math.abs(slope) < 0.0005) return 'level';
  return `${slope > 0 ? 'rises' : 'falls'} ${spoken(slopeQuantity(Math.abs(slope)))}`;
}
