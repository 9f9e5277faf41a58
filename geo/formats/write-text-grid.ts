import type { Grid } from '../raster/grid.ts';
import { rowsPerBand } from '../raster/row-bands.ts';

/** Nine digits carry a float32 exactly there and back (IEEE 754). */
const DIGITS = 9;
const NO_DATA = '-9999';

/**
 * An ESRI ASCII grid of a ground: heights in metres, frame coordinates, -9999 for no data; `dx` and
 * `dy` where cells are not square. Reading it back gives the same float32 heights. Put `prjText`
 * beside it. Each yield hands over the bytes of one band of rows.
 * Throws RangeError on a height of -9999 itself.
 */
export function* asciiGridPieces(grid: Grid): Generator<Uint8Array, void, void> {
  const { width, height, west, north, cellWidth, cellHeight } = grid;
  const size =
    cellWidth === cellHeight ? `cellsize ${cellWidth}` : `dx ${cellWidth}\ndy ${cellHeight}`;
  const head = [
    `ncols ${width}`,
    `nrows ${height}`,
    `xllcorner ${west}`,
    `yllcorner ${north - height * cellHeight}`,
    size,
    `NODATA_value ${NO_DATA}`,
  ];
  const encoder = new TextEncoder();
  yield encoder.encode(`${head.join('\n')}\n`);
  const texts = new Array<string>(width);
  const band = rowsPerBand(width);
  for (let top = 0; top < height; top += band) {
    let text = '';
    for (let row = top; row < Math.min(height, top + band); row++) {
      for (let column = 0; column < width; column++) {
        texts[column] = heightText(grid.data[row * width + column]!);
      }
      text += `${texts.join(' ')}\n`;
    }
    yield encoder.encode(text);
  }
}

/**
 * A ground as XYZ text: a header line, then `x y z` of every cell centre that has a height, row by
 * row from the north-west; frame metres. Cells without data have no line.
 */
export function* xyzPieces(
  grid: Grid,
  between: ' ' | ',' = ' ',
): Generator<Uint8Array, void, void> {
  const { width, height, west, north, cellWidth, cellHeight, data } = grid;
  const encoder = new TextEncoder();
  yield encoder.encode(`${['x', 'y', 'z'].join(between)}\n`);
  const band = rowsPerBand(4 * width);
  const xs = Array.from({ length: width }, (_, column) =>
    placeText(west + (column + 0.5) * cellWidth),
  );
  for (let top = 0; top < height; top += band) {
    const lines: string[] = [];
    for (let row = top; row < Math.min(height, top + band); row++) {
      const y = placeText(north - (row + 0.5) * cellHeight);
      for (let column = 0; column < width; column++) {
        const z = data[row * width + column]!;
        if (z === z) lines.push(`${xs[column]}${between}${y}${between}${heightText(z)}\n`);
      }
    }
    yield encoder.encode(lines.join(''));
  }
}

/** Runs the pieces to one array, for small grids and tests. */
export function joinPieces(pieces: Iterable<Uint8Array>): Uint8Array {
  const all = [...pieces];
  const whole = new Uint8Array(all.reduce((sum, piece) => sum + piece.length, 0));
  let at = 0;
  for (const piece of all) {
    whole.set(piece, at);
    at += piece.length;
  }
  return whole;
}

function heightText(z: number): string {
  if (z !== z) return NO_DATA;
  if (z === -9999) throw new RangeError('a height of -9999 cannot be told from no data');
  // Number() drops the zeros that toPrecision pads with.
  return String(Number(z.toPrecision(DIGITS)));
}

/** A micrometre is far below any survey; more digits would only show rounding. */
const placeText = (value: number) => String(Number(value.toFixed(6)));
