import { openGdal } from '../gdal.ts';

/**
 * A ground that is not the demo, as a GeoTIFF written by GDAL: UTM 15N near 42° N, 1.9° west of the
 * zone's meridian, 600 × 500 cells of 1 m that fall 3 % to the south, with a bowl 0.8 m deep whose
 * rim is closed.
 */
export const ownGround = {
  epsg: 26915,
  west: 342_000,
  north: 4_651_000,
  width: 600,
  height: 500,
  slope: 0.03,
  bowl: { column: 300, row: 250, radiusMeters: 20, depthMeters: 0.8 },
};

export async function ownGroundTiff(): Promise<Uint8Array> {
  const { west, north, width, height, slope, bowl, epsg } = ownGround;
  const lines = [
    `ncols ${width}`,
    `nrows ${height}`,
    `xllcorner ${west}`,
    `yllcorner ${north - height}`,
    'cellsize 1',
  ];
  for (let row = 0; row < height; row++) {
    const cells: string[] = [];
    for (let column = 0; column < width; column++) {
      const away = Math.hypot(column - bowl.column, row - bowl.row) / bowl.radiusMeters;
      // Flat ground round the bowl, so that its rim is level and it holds its whole depth.
      const plane = 300 - slope * row;
      const rim = 300 - slope * bowl.row;
      const blend = Math.max(0, Math.min(1, 2 - away));
      const dip = away < 1 ? bowl.depthMeters * (1 - away * away) : 0;
      cells.push((plane * (1 - blend) + rim * blend - dip).toFixed(3));
    }
    lines.push(cells.join(' '));
  }
  const gdal = await openGdal();
  const asc = gdal.write('own.asc', new TextEncoder().encode(`${lines.join('\n')}\n`));
  const made = await gdal.run(
    'gdal_translate',
    asc,
    [
      '-of',
      'GTiff',
      '-a_srs',
      `EPSG:${epsg}+5703`,
      '-ot',
      'Float32',
      '-co',
      'COMPRESS=DEFLATE',
      '-co',
      'TILED=YES',
    ],
    'own.tif',
  );
  return gdal.read(made);
}
