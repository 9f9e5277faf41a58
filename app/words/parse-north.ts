const written =
  /^(?:(east|west|[ew])\s*)?([+-]?\d+(?:\.\d+)?)\s*°?(?:\s*(\d+(?:\.\d+)?)\s*'?)?\s*(east|west|[ew])?$/i;

/** No declination or convergence of a place where deeds are written is larger. */
const most = 45;

/**
 * How far a deed's north lies from true north, degrees, east positive: "3.5 W" is -3.5, "3°30' E"
 * 3.5, "-3.5" as it stands, "" none. Null where it is no such angle.
 */
export function parseNorth(text: string): number | null {
  const plain = text
    .trim()
    .replace(/[\u2018\u2019\u2032]/g, "'")
    .replace(/[\u2012-\u2015\u2212]/g, '-');
  if (plain === '') return 0;
  const found = written.exec(plain);
  if (!found) return null;
  const [, before, whole, minutes = '0', after] = found;
  const letter = before ?? after ?? '';
  if ((before && after) || (letter !== '' && /^[+-]/.test(whole)) || Number(minutes) >= 60) {
    return null;
  }
  const size = Math.abs(Number(whole)) + Number(minutes) / 60;
  if (size > most) return null;
  return size !== 0 && (whole.startsWith('-') || /^w/i.test(letter)) ? -size : size;
}
