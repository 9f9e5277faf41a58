import { extentProblem } from '../../frame/crs.ts';
import type { HorizontalCrs } from '../../frame/crs-types.ts';
import { systemOf } from '../stated-place.ts';
import type { RawLayer } from './raw-feature.ts';
import { VectorError } from './vector-error.ts';
import type { AskedVectors, VectorChoices } from './vector-types.ts';

const HEIGHTS_UNKNOWN = { unit: null, datum: 'unknown', epsg: null } as const;

/**
 * The system of a layer: what the file says, where its coordinates can be in it; else what the user
 * named; else the question. A user's word goes before the file's only where there is one layer.
 * Throws VectorError where nobody can name it away (NAD27), or the named one cannot be right.
 */
export function layerSystem(
  layer: RawLayer,
  isOnly: boolean,
  choices: VectorChoices,
): HorizontalCrs | AskedVectors {
  const bounds = boundsOf(layer);
  const { crs, file } = layer;
  if (layer.isFixed && crs.ok) return crs.value;
  const misfit = crs.ok && bounds ? extentProblem(crs.value, bounds) : null;
  // Latitudes in the place of longitudes are another question, asked later.
  const mayBeSwapped = bounds !== null && fitsSwapped(bounds);
  const fits = crs.ok && (misfit === null || (crs.value.kind === 'geographic' && mayBeSwapped));
  if (crs.ok && fits && !(isOnly && choices.epsg !== undefined)) return crs.value;
  const stated = misfit === null || fits ? crs : ({ ok: false, problem: misfit } as const);
  const about = { name: file, crs: stated, vertical: HEIGHTS_UNKNOWN };
  const given = choices.epsg === undefined ? {} : { epsg: choices.epsg };
  const settled = systemOf(about, given);
  if (!('kind' in settled)) {
    const still = bounds ? extentProblem(settled.value, bounds) : null;
    if (still === null) return settled.value;
    const { code, wayOut } = still;
    const what = `The coordinates of the file cannot be in ${settled.value.name}.`;
    throw new VectorError(code, what, wayOut, file);
  }
  if (settled.kind === 'ask') return { kind: 'ask', question: 'crs', why: settled.why, file };
  if (settled.kind === 'refused') {
    const { code, what, wayOut } = settled.problem;
    throw new VectorError(code, what, wayOut, settled.problem.where ?? file);
  }
  throw new RangeError(`a system settled as ${settled.kind}`);
}

interface Bounds {
  west: number;
  south: number;
  east: number;
  north: number;
}

function fitsSwapped({ west, south, east, north }: Bounds): boolean {
  return west >= -90 && east <= 90 && south >= -180 && north <= 180;
}

/** Bounds in file coordinates of the middle nine tenths: a stray position decides nothing. */
function boundsOf(layer: RawLayer): Bounds | null {
  const xs: number[] = [];
  const ys: number[] = [];
  // One position of each ring is enough to tell degrees from metres.
  for (const { parts } of layer.features) {
    for (const { rings } of parts) {
      for (const ring of rings) {
        const [x, y] = ring[ring.length >> 1] ?? [Number.NaN, Number.NaN];
        if (!Number.isFinite(x) || !Number.isFinite(y)) continue;
        xs.push(x);
        ys.push(y);
      }
    }
  }
  if (xs.length === 0) return null;
  const ascending = (a: number, b: number) => a - b;
  xs.sort(ascending);
  ys.sort(ascending);
  const cut = Math.floor(xs.length / 20);
  const last = xs.length - 1 - cut;
  return { west: xs[cut], south: ys[cut], east: xs[last], north: ys[last] };
}
