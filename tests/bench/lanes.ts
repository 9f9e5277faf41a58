import { fileURLToPath } from 'node:url';
import * as layout from '../../fixtures/generator/layout.ts';
import { bestLanes } from '../../geo/approach/best-lanes.ts';
import { defaultLaneWeights, laneGround } from '../../geo/approach/lane-ground.ts';
import type { ExposureAt } from '../../geo/approach/lane-cost.ts';
import { laneQuality } from '../../geo/approach/lane-quality.ts';
import { cellUnder } from '../../geo/approach/lane-walk.ts';
import { siteStands } from '../../geo/approach/siting.ts';
import { seenShare } from '../../geo/sight/seen-share.ts';
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
  const winds = Array.from({ length: 16 }, (_, i) => scentOn(22.5 * i));
  const stand = layout.stands.A1.at as [number, number];
  const job = { ground, stand, accessPoints: [layout.gate], way: 'in' } as const;
  const lanes = timeRuns(2, () => void finish(bestLanes(job, winds)));
  const siting = timeRuns(2, () => {
    const exposure = new Float32Array(ground.width * ground.height);
    const quality = finish(laneQuality(ground, exposure, [layout.gate]));
    finish(
      siteStands({
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
        apartMeters: 60,
        count: 3,
      }),
    );
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

/** Sure within 15 degrees of straight down the wind of a corner of what is protected, half within 30. */
function scentOn(fromDegrees: number): ExposureAt {
  const corners = [...Object.values(layout.plots), ...Object.values(layout.beddings)].flat();
  const [east, north] = [0, 1].map((k) => -Math.sin(((fromDegrees + 90 * k) * Math.PI) / 180));
  return (x, y) => {
    let most = 0;
    for (const corner of corners) {
      const [dx, dy] = [corner[0] - x, corner[1] - y];
      const far = Math.hypot(dx, dy);
      const along = (dx * east! + dy * north!) / (far || 1);
      if (far <= RANGE_METERS) most = Math.max(most, along > 0.966 ? 1 : along > 0.866 ? 0.5 : 0);
    }
    return most;
  };
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  console.table(await run());
  process.exit(0);
}
