import type { Found } from './read-distance.ts';

const number = String.raw`\d+(?:\.\d*)?|\.\d+`;
const degreeSign = String.raw`(?:°|d(?:eg(?:rees?)?)?(?![a-z])\.?)`;
const minuteSign = String.raw`(?:'|m(?:in(?:utes?)?)?(?![a-z])\.?)`;
const secondSign = String.raw`(?:"|s(?:ec(?:onds?)?)?(?![a-z])\.?)`;

/** Between the N or S and the E or W: degrees, minutes and seconds, by signs, dashes or blanks. */
const between = String.raw`(${number})\s*${degreeSign}?(?:[\s-]*(${number})\s*${minuteSign}?(?:[\s-]*(${number})\s*${secondSign}?)?)?`;
const quadrant = new RegExp(
  String.raw`\b(n|s|north|south)(?![a-z])\.?[\s:,]*${between}[\s:,]*(e|w|east|west)\b\.?`,
  'i',
);
/** Nothing stands behind an azimuth, so its minutes need their sign, or dashes after a mark. */
const signed = String.raw`(?<![\d.])(\d+)\s*${degreeSign}\s*(${number})\s*${minuteSign}(?:\s*(${number})\s*${secondSign})?`;
const dashed = String.raw`(\d+)-(\d+)(?:-(${number}))?`;
const mark = String.raw`\b(?:az(?:imuth)?|bearing)(?![a-z])\.?[\s:,=]*`;
const azimuths = [
  new RegExp(`${mark}${signed}`, 'i'),
  new RegExp(`${mark}${dashed}`, 'i'),
  new RegExp(String.raw`${mark}(${number})\s*${degreeSign}?`, 'i'),
  new RegExp(signed, 'i'),
  new RegExp(String.raw`(?<![\d.])(${number})\s*${degreeSign}`, 'i'),
];
const cardinal = /\b(?:due\s+)?(north|south|east|west)\b(?!\s*(?:east|west|line|side|corner))/i;
const shortCardinal = /(?:^\s*|\bdue\s+)([nsew])\b(?=[\s,]+[\d.])/i;

/**
 * The first direction in some words, degrees clockwise from the deed's north: a quadrant bearing
 * (`N 45°30'15" E`, `S45-30W`, `North 3.5 degrees East`), an azimuth (`134°30'15"`, `az 134.5`,
 * `az 134-30-15`) or a cardinal one (`due West`). NaN where one is written that cannot be, such as
 * 75 minutes; null where there is none. Example: S 45-30 W is 225.5.
 */
export function findDirection(words: string): Found | null {
  const q = quadrant.exec(words);
  if (q) {
    const turned = degrees(q[2], q[3], q[4], 90);
    const north = q[1][0].toLowerCase() === 'n';
    const east = q[5][0].toLowerCase() === 'e';
    const value = north ? (east ? turned : 360 - turned) : east ? 180 - turned : 180 + turned;
    return { value: value % 360, start: q.index, end: q.index + q[0].length };
  }
  for (const pattern of azimuths) {
    const a = pattern.exec(words);
    if (!a) continue;
    const value = degrees(a[1], a[2], a[3], 360) % 360;
    return { value, start: a.index, end: a.index + a[0].length };
  }
  const c = cardinal.exec(words) ?? shortCardinal.exec(words);
  if (!c) return null;
  const value = 'nesw'.indexOf(c[1][0].toLowerCase()) * 90;
  return { value, start: c.index, end: c.index + c[0].length };
}

function degrees(whole: string, minutes = '0', seconds = '0', most: number): number {
  const value = Number(whole) + Number(minutes) / 60 + Number(seconds) / 3600;
  return Number(minutes) < 60 && Number(seconds) < 60 && value <= most ? value : NaN;
}
