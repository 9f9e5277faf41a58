import { execFileSync } from 'node:child_process';
import { availableParallelism, loadavg } from 'node:os';
import type { BenchRow } from './bench-row.ts';
import * as bermEdit from './berm-edit.ts';
import * as drag from './drag.ts';
import * as fill from './fill.ts';
import * as growth from './growth.ts';
import * as lanes from './lanes.ts';
import * as leastCost from './least-cost.ts';
import * as manyFeatures from './many-features.ts';
import * as nativeFill from './native-fill.ts';
import * as nativeFlow from './native-flow.ts';
import * as nativeLeastCost from './native-least-cost.ts';
import * as nativeViewshed from './native-viewshed.ts';
import * as pageLoad from './page-load.ts';
import * as readGpx from './read-gpx.ts';
import { benchReadGeoTiff } from './read-geotiff.ts';
import * as reopen from './reopen.ts';
import * as slope from './slope.ts';
import * as storm from './storm.ts';
import * as viewshed from './viewshed.ts';
import * as wind from './wind.ts';

/**
 * `npm run bench [name …]`: every speed bar, each measured with its reference in this run. Ratios
 * hold on a noisy machine, milliseconds hardly. Names: slope fill growth storm gpx read load drag many reopen
 * berm viewshed cost lanes wind, and native (native-viewshed native-fill native-flow native-cost):
 * against GDAL, SAGA and GRASS, each where its command is found on the path.
 */
const benches: Record<string, () => Promise<BenchRow[]>> = {
  slope: slope.run,
  fill: fill.run,
  growth: growth.run,
  storm: storm.run,
  gpx: readGpx.run,
  read: async () => {
    const { medianMilliseconds, gdalMilliseconds, gdal, ratio } = await benchReadGeoTiff();
    return [
      {
        name: 'GeoTIFF of 16 M cells read in the browser, median of 7',
        ours: medianMilliseconds,
        reference: gdalMilliseconds,
        referenceName: `GDAL translate to raw (${gdal})`,
        ratio,
        bar: 'ratio at most 1.3',
      },
    ];
  },
  load: pageLoad.run,
  drag: drag.run,
  many: manyFeatures.run,
  reopen: reopen.run,
  berm: bermEdit.run,
  viewshed: viewshed.run,
  cost: leastCost.run,
  lanes: lanes.run,
  wind: wind.run,
  'native-viewshed': nativeViewshed.run,
  'native-fill': nativeFill.run,
  'native-flow': nativeFlow.run,
  'native-cost': nativeLeastCost.run,
};

const asked = process.argv.slice(2);
const isAsked = (name: string) =>
  asked.length === 0 || asked.some((one) => name === one || name.startsWith(`${one}-`));
if (asked.length === 0 || asked.some((one) => !one.startsWith('native'))) {
  execFileSync('npx', ['vite', 'build', '--logLevel', 'error'], { stdio: 'inherit' });
}
console.log(`load ${loadavg()[0]!.toFixed(1)} on ${availableParallelism()} processors`);
for (const [name, run] of Object.entries(benches)) {
  if (!isAsked(name)) continue;
  for (const row of await run()) console.log(lineOf(row));
}
process.exit(0);

function lineOf({ name, ours, reference, referenceName, ratio, bar }: BenchRow): string {
  const against =
    reference === null
      ? referenceName === 'none'
        ? ''
        : ` · ${referenceName}`
      : ` · ${referenceName} ${reference.toFixed(0)} · ratio ${ratio!.toFixed(2)}`;
  return `${name}: ${ours.toFixed(ours < 10 ? 2 : 0)}${against}${bar ? ` (bar: ${bar})` : ''}`;
}
