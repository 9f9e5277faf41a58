import { readFileSync } from 'node:fs';
import { performance } from 'node:perf_hooks';
import { memorySource } from '../../geo/formats/byte-source.ts';
import { openWind } from '../../geo/formats/wind/open-wind.ts';
import type { Grid } from '../../geo/raster/grid.ts';
import { airPools } from '../../geo/wind/air-pools.ts';
import { usualDriftRule as rule } from '../../geo/wind/drift-rule.ts';
import { usualSeason } from '../../geo/wind/hunting-season.ts';
import { poolCells, pooledScent } from '../../geo/wind/pooled-scent.ts';
import { scentDrift } from '../../geo/wind/scent-drift.ts';
import { seasonHours } from '../../geo/wind/season-hours.ts';
import { seasonPaths, seasonSlopeAir } from '../../geo/wind/season-slope-air.ts';
import { seatReach } from '../../geo/wind/seat-reach.ts';
import { usualSlopeFlow } from '../../geo/wind/slope-flow.ts';
import { standCoverage } from '../../geo/wind/stand-coverage.ts';
import { judgeSeason, standSeason } from '../../geo/wind/stand-season.ts';
import { sunParts } from '../../geo/wind/sun-parts.ts';
import { windVerdict } from '../../geo/wind/wind-verdict.ts';
import { finish } from '../../geo/work.ts';
import { demoTract } from '../demo-tract.ts';
import { generatedWind } from '../generated-wind.ts';
import { demoProtected, demoSeats } from '../demo-stands.ts';
import type { BenchRow } from './bench-row.ts';

const place = [-75, 36.14] as const;
const RUNS = 9;

/** The demo's stands as the wind turns, and five seasons for ten stands, their kernels alone. */
export async function run(): Promise<BenchRow[]> {
  const file = readFileSync(new URL('../../fixtures/demo/wind.csv', import.meta.url));
  const opened = await openWind(memorySource('wind.csv', file));
  if (opened.kind !== 'opened') throw new Error(JSON.stringify(opened));
  const { record } = opened.stations[0]!;
  const season = Array.from({ length: RUNS }, () => timed(() => judgeTen(record)));
  const none = { reference: null, referenceName: 'none', ratio: null };
  const long = await readLong();
  const tract = demoTract();
  return [
    { name: 'all demo stands judged, 95th of 720 winds', ours: turnWind(), ...none, bar: '16 ms' },
    {
      name: `five seasons by the hour for 10 stands with slope air, best of ${RUNS} runs`,
      ours: Math.min(...season),
      ...none,
      bar: '300 ms',
    },
    {
      name: 'where evening air stands on the demo and whose, once for ground and berms, best of 5',
      ours: Math.min(...Array.from({ length: 5 }, () => timed(() => eveningAir(tract)))),
      ...none,
    },
    {
      name: `5 million rows of wind (${Math.round(long.size / 1e6)} MB) read, with the making of them, ms`,
      ours: long.whole,
      ...none,
    },
    {
      name: 'between two chances to stop, 95th of its pieces, ms',
      ours: long.stretch,
      ...none,
      bar: '200 ms',
    },
    {
      name: 'most memory over what there was before it, MB',
      ours: long.megabytes,
      ...none,
      bar: '100 MB',
    },
    {
      name: 'from Stop at a third to the answer, ms',
      ours: long.stop,
      ...none,
      bar: '200 ms',
    },
  ];
}

/** Stands are looked round anew at each wind, as if they were being dragged. */
function turnWind(): number {
  const times = Array.from({ length: 720 }, (_, k) =>
    timed(() => {
      const air = {
        speedMetersPerSecond: 4,
        stability: 'D',
        slopeFlow: null,
        isSheltered: false,
      } as const;
      const drift = scentDrift({ ...air, fromDegrees: k / 2 }, rule);
      for (const { at } of demoSeats) {
        windVerdict(seatReach([at[0], at[1]], demoProtected, rule.rangeMeters), drift, rule);
      }
    }),
  );
  return times.sort((a, b) => a - b)[Math.floor(0.95 * times.length)]!;
}

/** The way of tests/unit/long-wind.test.ts, whole: how long, how much it holds, and how soon it stops. */
async function readLong() {
  const source = generatedWind(5_000_000);
  const held = () => {
    const { heapUsed, arrayBuffers } = process.memoryUsage();
    return (heapUsed + arrayBuffers) / 1e6;
  };
  globalThis.gc?.();
  const before = held();
  let most = before;
  const stretches: number[] = [];
  const start = performance.now();
  let last = start;
  const opened = await openWind(
    source,
    {},
    {
      onProgress: async () => {
        stretches.push(performance.now() - last);
        most = Math.max(most, held());
        await new Promise((next) => setImmediate(next));
        last = performance.now();
      },
    },
  );
  const whole = performance.now() - start;
  const stretch = stretches.sort((a, b) => a - b)[Math.floor(0.95 * stretches.length)]!;
  if (opened.kind !== 'opened' || opened.stations.length !== 5) throw new Error(opened.kind);
  let asked = 0;
  const stopped = await openWind(
    source,
    {},
    {
      onProgress: ({ share }) => {
        if (share > 1 / 3 && asked === 0) asked = performance.now();
      },
      shouldStop: () => asked > 0,
    },
  );
  if (stopped.kind !== 'refused') throw new Error(stopped.kind);
  return { size: source.size, whole, stretch, megabytes: most - before, stop: performance.now() - asked }; // prettier-ignore
}

function eveningAir(tract: Grid): void {
  const pools = finish(airPools(tract));
  const cells = poolCells(pools, demoProtected);
  for (const { at } of demoSeats) pooledScent(pools, cells, [at[0], at[1]], rule.rangeMeters);
}

function judgeTen(record: Parameters<typeof sunParts>[0]): void {
  const hours = seasonHours(record, sunParts(record, ...place, usualSeason), ...place);
  const paths = seasonPaths(hours, ...place);
  const level = { stepDegrees: 5, elevationDegrees: new Float32Array(72).fill(2) };
  const stands = Array.from({ length: 10 }, (_, k) => {
    const [x, y] = demoSeats[k % demoSeats.length]!.at;
    const reach = seatReach([x + k, y], demoProtected, rule.rangeMeters);
    const slope = { grade: 0.022, fallsTowardDegrees: 143 + k };
    const slopeAir = seasonSlopeAir(hours, paths, slope, level, usualSlopeFlow);
    const seat = { reach, windShare: 0.78, isSheltered: false, slopeAir };
    const verdicts = judgeSeason(hours, seat, rule);
    standSeason(hours, verdicts);
    return { id: String(k), verdicts };
  });
  standCoverage(hours, stands);
}

function timed(work: () => void): number {
  const start = performance.now();
  work();
  return performance.now() - start;
}
