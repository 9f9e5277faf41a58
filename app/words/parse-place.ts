/** Degrees, with minutes and seconds where they have their signs. */
const angle = String.raw`([+\-]?\d+(?:\.\d+)?)\s*(?:°|deg\.?)?(?:\s*(\d+(?:\.\d+)?)\s*'(?:\s*(\d+(?:\.\d+)?)\s*")?)?`;
const before = new RegExp(String.raw`^([ns])\s*${angle}\s*[,;]?\s*([ew])\s*${angle}$`, 'i');
const after = new RegExp(String.raw`^${angle}\s*([ns])?\s*[,;\s]\s*${angle}\s*([ew])?$`, 'i');

/**
 * Longitude and latitude of a place typed as latitude, then longitude: `36.12345, -75.01234`,
 * `36.12345 N 75.01234 W`, `36°07'24.4" N, 75°00'44.4" W`, `N 36°07.407' W 75°00.74'`. Null where
 * it is no such place, or lies off the globe.
 */
export function parsePlace(text: string): readonly [lng: number, lat: number] | null {
  const plain = text
    .trim()
    .replace(/[\u2018\u2019\u2032]/g, "'")
    .replace(/[\u201c\u201d\u2033]|''/g, '"')
    .replace(/[\u00ba\u02da]/g, '°')
    .replace(/[\u2012-\u2015\u2212]/g, '-');
  const b = before.exec(plain);
  const a = b ? null : after.exec(plain);
  if (!b && !a) return null;
  const [lat, lng] = b
    ? [degrees(b[2], b[3], b[4], b[1]), degrees(b[6], b[7], b[8], b[5])]
    : [degrees(a![1], a![2], a![3], a![4]), degrees(a![5], a![6], a![7], a![8])];
  return Math.abs(lat) <= 90 && Math.abs(lng) <= 180 ? [lng, lat] : null;
}

/** NaN where minutes, seconds or the sign cannot be. */
function degrees(whole: string, minutes = '0', seconds = '0', letter = ''): number {
  const isSigned = /^[+-]/.test(whole);
  if (Number(minutes) >= 60 || Number(seconds) >= 60 || (isSigned && letter !== '')) return NaN;
  const size = Math.abs(Number(whole)) + Number(minutes) / 60 + Number(seconds) / 3600;
  return whole.startsWith('-') || /[sw]/i.test(letter) ? -size : size;
}
