/**
 * Fills the blanks of a tile template: `{z}`, `{zz}` (two digits) or `{z+n}` and `{z-n}` (a service
 * that counts from another level), `{x}`, `{y}` (row from the north), `{-y}` (row from the south),
 * `{bbox-3857}` (west,south,east,north in web-mercator metres), `{bbox-lon-lat}` and `{bbox-lat-lon}`
 * (the same box in degrees, in the order that the service wants).
 */

/** Half the width of the web-mercator world: π times EPSG's semi-major axis of 6,378,137 m. */
const halfWorldMeters = Math.PI * 6_378_137;

/**
 * Address of one tile of the web-mercator pyramid, row 0 north. Throws RangeError for a tile outside
 * it. Example: `https://a.test/{z}/{y}/{x}` at 3/1/2 gives `https://a.test/3/2/1`.
 */
export function tileAddress(template: string, z: number, x: number, y: number): string {
  const across = 2 ** z;
  if (!(z >= 0 && x >= 0 && y >= 0 && x < across && y < across)) {
    throw new RangeError(`There is no tile ${z}/${x}/${y}.`);
  }
  const boxes: Readonly<Record<string, () => number[]>> = {
    'bbox-3857': () => {
      const side = (2 * halfWorldMeters) / across;
      const west = x * side - halfWorldMeters;
      const north = halfWorldMeters - y * side;
      return [west, north - side, west + side, north];
    },
    'bbox-lon-lat': () => [
      longitude(x, across),
      latitude(y + 1, across),
      longitude(x + 1, across),
      latitude(y, across),
    ],
    'bbox-lat-lon': () => [
      latitude(y + 1, across),
      longitude(x, across),
      latitude(y, across),
      longitude(x + 1, across),
    ],
  };
  const numbers: Readonly<Record<string, number>> = { z, x, y, '-y': across - 1 - y };
  return template.replace(/\{([a-z0-9+-]+)\}/g, (blank, name: string) => {
    if (name in numbers) return String(numbers[name]);
    if (name === 'zz') return String(z).padStart(2, '0');
    if (/^z[+-]\d+$/.test(name)) return String(z + Number(name.slice(1)));
    return boxes[name]?.().join(',') ?? blank;
  });
}

function longitude(column: number, across: number): number {
  return (360 * column) / across - 180;
}

function latitude(row: number, across: number): number {
  return (Math.atan(Math.sinh(Math.PI * (1 - (2 * row) / across))) * 180) / Math.PI;
}
