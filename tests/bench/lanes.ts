import { fileURLToPath } from 'node:url';
import * as layout from '../../fixtures/generator/layout.ts';
import { bestLanes } from '../../geo/approach/best-lanes.ts';
import { defaultLaneWeights, laneGround } from '../../geo/approach/lane-ground.ts';
import type { ExposureAt } from '../../geo/approach/lane-cost.ts';
import { laneQuality } from '../../geo/approach/lane-quality.ts';
import { cellUnder } from '../../geo/approach/lane-walk.ts';
import { reachOnLattice, scentExposures } from '../../geo/approach/scent-exposure.ts';
import { bestSites, siteBand } from '../../geo/approach/siting.ts';
import type { XY } from '../../geo/plan/overlay/arrangement.ts';
import { seenShare } from '../../geo/sight/seen-share.ts';
import { usualDriftRule } from '../../geo/wind/drift-rule.ts';
import { scentDrift } from '../../geo/wind/scent-drift.ts';
import { finish } from '../../geo/work.ts';
import { demoTract, maskOf } from '../demo-tract.ts';
import { timeRuns } from './bench-ground.ts';
import type { BenchRow } from './bench-row.ts';

const RANGE_METERS = 274.32;

/**
 * Lanes for one stand of the demo and all 16 winds, best and second, on ground made ready once; the
 * siting surface of its larger plot.
 */
export async function run(): Promise<BenchRow[]> {
  const grid = demoTract();
  const places = [...Object.values(layout.plots), ...Object.values(layout.beddings)];
  const eyes = places.map((corners) =>
    corners.map(([x, y]) => ({ x, y, eyeMeters: 1, radiusMeters: RANGE_METERS })),
  );
  const barred = maskOf(grid, [...Object.values(layout.beddings), layout.wetland]);
  let ground = laneGround(grid, { barred, path: null, seen: null, wet: null }, defaultLaneWeights);
  const ready = timeRuns(2, () => {
    const seen = finish(seenShare(grid, eyes, 1.7));
    ground = laneGround(grid, { barred, path: null, seen, wet: null }, defaultLaneWeights);
  });
  const stand = layout.stands.A1.at as [number, number];
  const job = { ground, stand, accessPoints: [layout.gate], way: 'in' } as const;
  const lanes = timeRuns(2, () => void finish(bestLanes(job, scentOnWinds())));
  const siting = timeRuns(2, () => {
    const winds = scentOnWinds();
    const exposure = new Float32Array(ground.width * ground.height);
    const quality = finish(laneQuality(ground, exposure, [layout.gate]));
    const band = finish(
      siteBand({
        ground: grid,
        plot: [layout.plots.A],
        nearMeters: 0,
        farMeters: 40,
        stepMeters: 5,
        eyeMeters: 4.9,
        targetMeters: 0.9,
        rangeMeters: RANGE_METERS,
        isAllowed: () => true,
        hoursShareAt: (x, y) => 1 - winds.reduce((sum, wind) => sum + wind(x, y), 0) / 16,
        laneQualityAt: (x, y) => quality[cellUnder(ground, [x, y])]!,
      }),
    );
    const isOther = (a: XY, b: XY) => Math.hypot(a[0] - b[0], a[1] - b[1]) >= 60;
    bestSites(band, { apartMeters: 60, count: 3, standing: [], isClear: () => true, isOther });
  });
  const alone = { reference: null, referenceName: 'none', ratio: null };
  return [
    {
      name: 'lanes for one stand, 16 winds, best of 2',
      ours: lanes.warm,
      ...alone,
      bar: 'at most 1500 ms with the last',
    },
    {
      name: 'where a stand for plot A could go, 16 winds, best of 2',
      ours: siting.warm,
      ...alone,
      bar: 'at most 4000 ms',
    },
    { name: 'ground made ready for lanes, with who sees the walk', ours: ready.warm, ...alone },
  ];
}

/** Plots and bedding on 16 winds of 3 m/s, by the usual rule. */
function scentOnWinds(): ExposureAt[] {
  const corners = { ...layout.plots, ...layout.beddings };
  const grounds = Object.entries(corners).map(([id, ring]) => ({
    id,
    shape: { kind: 'area', paths: [ring] } as const,
  }));
  const drifts = Array.from({ length: 16 }, (_, i) =>
    scentDrift(
      {
        fromDegrees: 22.5 * i,
        speedMetersPerSecond: 3,
        stability: 'D',
        slopeFlow: null,
        isSheltered: false,
      },
      usualDriftRule,
    ),
  );
  // As the answer does: places 16 m apart.
  const around = reachOnLattice(demoTract(), grounds, RANGE_METERS, 16);
  return scentExposures(around, drifts, usualDriftRule.coreHalfAngleDegrees);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  console.table(await run());
  process.exit(0);
}
