import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { writeGeoTiff } from '../../geo/formats/geotiff/write-geotiff.ts';
import type { Grid } from '../../geo/raster/grid.ts';
import { finish } from '../../geo/work.ts';
import type { Taken } from './bench-ground.ts';

/** Whether a program is found on the path. */
export function isInstalled(command: string): boolean {
  return spawnSync(command, ['--version'], { stdio: 'ignore' }).error === undefined;
}

/** Runs `work` with a folder of its own under the system's temporary one, removed afterwards. */
export function inFolder<T>(work: (folder: string) => T): T {
  const folder = mkdtempSync(join(tmpdir(), 'bench-native-'));
  try {
    return work(folder);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** The ground as the GeoTIFF that the app itself writes (tiles, deflate, predictor); gives its path. */
export function writeGround(folder: string, grid: Grid, name = 'ground.tif'): string {
  const path = join(folder, name);
  writeFileSync(path, finish(writeGeoTiff(grid, { vertical: 'NAVD88' })));
  return path;
}

/** A whole command, start, reading and writing included: its seconds on the wall and the processor's. */
export function timeCommand(folder: string, command: string, args: readonly string[]): Taken {
  const line = 'TIMEFORMAT="timed whole %R %U %S"; time "$0" "$@"';
  return timesIn(runIn(folder, 'bash', ['-c', line, command, ...args])).get('whole')!;
}

/**
 * Runs lines of a script in a location of GRASS made from a raster for this run, and gives what each
 * line that begins with `timed NAME` took: the whole module, maps read and written, import left out.
 */
export function runInGrass(folder: string, raster: string, lines: readonly string[]) {
  const script = join(folder, 'in-grass.sh');
  const timed = 'timed() { TIMEFORMAT="timed $1 %R %U %S"; shift; time "$@"; }';
  writeFileSync(script, ['set -e', timed, ...lines].join('\n'));
  const args = ['--tmp-location', raster, '--exec', 'bash', script];
  return timesIn(runIn(folder, 'grass', args));
}

function runIn(folder: string, command: string, args: readonly string[]): string {
  const { status, stderr } = spawnSync(command, args, { cwd: folder, encoding: 'utf8' });
  if (status !== 0) throw new Error(`${command} ended with ${status}: ${stderr}`);
  return stderr;
}

function timesIn(text: string): Map<string, Taken> {
  const found = text.matchAll(/^timed (\S+) ([\d.]+) ([\d.]+) ([\d.]+)$/gm);
  return new Map(
    [...found].map(([, name, wall, user, system]) => [
      name!,
      { warm: 1000 * Number(wall), processor: 1000 * (Number(user) + Number(system)) },
    ]),
  );
}
