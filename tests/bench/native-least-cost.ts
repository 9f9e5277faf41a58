import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { leastCost } from '../../geo/approach/least-cost.ts';
import { slopeHorn } from '../../geo/ground/slope.ts';
import { finish } from '../../geo/work.ts';
import { benchGround, timeRuns } from './bench-ground.ts';
import { found, twoRows, type BenchRow } from './bench-row.ts';
import { inFolder, isInstalled, runInGrass, writeGround } from './native-tools.ts';

/**
 * Cheapest ways to all of 16 M cells against GRASS's r.cost on the same costs a metre, over eight
 * neighbours and with knight's moves (`-k`), kept whole in memory: the whole module, import left
 * out. Then on how many cells the two costs are the same to a part in 10,000: ours are added up in
 * 32 bits, and never pass between two barred cells that meet at a corner (there are none here).
 */
export async function run(): Promise<BenchRow[]> {
  const side = 4000;
  const cells = side * side;
  const grid = benchGround(side);
  const perMeter = finish(slopeHorn(grid)).map((s) => 1 + 20 * (s > 0 ? s : 0));
  const surface = { width: side, height: side, cellWidth: 1, cellHeight: 1, perMeter };
  const root = (side / 2) * side + side / 2;
  const tree = { cost: new Float32Array(cells), step: new Uint8Array(cells) };
  const at = `${grid.west + side / 2 + 0.5},${grid.north - side / 2 - 0.5}`;
  const moves = [
    { neighbours: 8, flag: '', name: 'eight neighbours' },
    { neighbours: 16, flag: '-k', name: 'knight’s moves too' },
  ] as const;
  const native = isInstalled('grass')
    ? inFolder((folder) => {
        const input = writeGround(folder, { ...grid, data: perMeter }, 'cost.tif');
        const taken = runInGrass(folder, input, [
          `r.in.gdal -o --q input=${input} output=cost`,
          'g.region raster=cost',
          ...moves.flatMap(({ neighbours, flag }) => [
            `timed of${neighbours} r.cost ${flag} --q input=cost output=of${neighbours} start_coordinates=${at} memory=8000`,
            `r.out.gdal -f -c --q input=of${neighbours} output=of${neighbours}.bin format=ENVI type=Float32`,
          ]),
        ]);
        const costs = moves.map(
          ({ neighbours }) =>
            new Float32Array(readFileSync(join(folder, `of${neighbours}.bin`)).buffer),
        );
        return { taken, costs };
      })
    : null;
  return moves.flatMap(({ neighbours, name }, i) => {
    const ours = timeRuns(2, () => void finish(leastCost(surface, root, { tree, neighbours })));
    const rows = twoRows(
      `least cost, ${name}, 16 M cells, warm, best of 2`,
      ours,
      'GRASS r.cost, whole module',
      native?.taken.get(`of${neighbours}`),
      'ratio at most 0.333',
    );
    const theirs = native?.costs[i];
    if (theirs === undefined) return rows;
    const same = theirs.reduce(
      (sum, cost, cell) => sum + (Math.abs(cost - tree.cost[cell]!) <= 1e-4 * cost ? 1 : 0),
      0,
    );
    const said = `cells where GRASS and ours have the same cost, ${name}, per cent`;
    return [...rows, found(said, (100 * same) / cells)];
  });
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  console.table(await run());
  process.exit(0);
}
