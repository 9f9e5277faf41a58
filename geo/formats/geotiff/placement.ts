import { affinePoint, type Affine } from '../../raster/affine.ts';
import { TAG } from './tiff-tags.ts';
import { tagNumbers, type Directory, type TiffFile } from './tiff-directory.ts';

/**
 * Where the cells lie (OGC 19-008r4 section 7.2): a tie point and a pixel scale, or a 4 × 4 matrix.
 * With `pixelIsPoint` the file speaks of cell centres, so the corner is half a cell before it; the
 * scale's y is taken as pointing down the rows whatever its sign, as GDAL does.
 *
 * @returns null where the file does not place its cells
 */
export async function readAffine(
  file: TiffFile,
  directory: Directory,
  pixelIsPoint: boolean,
): Promise<Affine | null> {
  const scale = await tagNumbers(file, directory, TAG.ModelPixelScale);
  const tie = await tagNumbers(file, directory, TAG.ModelTiepoint);
  const matrix = await tagNumbers(file, directory, TAG.ModelTransformation);
  let t: Affine;
  if (scale && tie && scale.length >= 2 && tie.length >= 6) {
    const [i, j, , x, y] = tie;
    const a = scale[0];
    const e = -Math.abs(scale[1]);
    t = { a, b: 0, c: x - i * a, d: 0, e, f: y - j * e };
  } else if (matrix && matrix.length >= 8) {
    t = { a: matrix[0], b: matrix[1], c: matrix[3], d: matrix[4], e: matrix[5], f: matrix[7] };
  } else return null;
  if (pixelIsPoint) {
    const [c, f] = affinePoint(t, -0.5, -0.5);
    t = { ...t, c, f };
  }
  const area = t.a * t.e - t.b * t.d;
  const finite = Number.isFinite(area) && Number.isFinite(t.c) && Number.isFinite(t.f);
  return finite && Math.abs(area) > 0 ? t : null;
}
