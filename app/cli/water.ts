import type { FlowLineShape } from '../../geo/answers/flow-answers.ts';
import { flowLineShapes } from '../../geo/answers/flow-lines.ts';
import { leftOutFindings, listSpots } from '../../geo/answers/listed-low-spots.ts';
import { makeLowSpotSurface } from '../../geo/answers/low-spot-surface.ts';
import { pondOutline } from '../../geo/answers/pond-outline.ts';
import { pondTally } from '../../geo/answers/pond-tally.ts';
import { spotCatchments } from '../../geo/answers/spot-catchments.ts';
import { makeStormGround } from '../../geo/answers/storm-ground.ts';
import type { GroundDraft } from '../../geo/formats/opening.ts';
import type { Frame } from '../../geo/frame/crs-types.ts';
import { openFrame } from '../../geo/frame/open-frame.ts';
import type { Grid } from '../../geo/raster/grid.ts';
import type { Problem } from '../../geo/result.ts';
import { traceFlowLines } from '../../geo/water/flow-line-trace.ts';
import { flowCatchments } from '../../geo/water/flow-lines.ts';
import { hoursToDry } from '../../geo/water/infiltration.ts';
import { runoffMeters } from '../../geo/water/runoff.ts';
import { countSurface, stormWater } from '../../geo/water/storm.ts';
import { finish } from '../../geo/work.ts';
import { badInput } from './cli-problem.ts';
import { flowFacts } from './flow-facts.ts';
import { groundChoices, groundOptions, groundOptionsHelp, openOrRefuse, withFiles } from './ground-options.ts'; // prettier-ignore
import { groundOfPlan, planAt, type PlanOnDisk } from './read-plan.ts';
import { fileProblem, printJson, readArguments, type Verb } from './verb.ts';
import { writeWater, type WaterFiles } from './water-files.ts';
import { waterOfPlan } from './water-of-plan.ts';
import {
  waterChoices,
  waterOptions,
  waterOptionsHelp,
  type WaterChoices,
} from './water-options.ts';

/** Low spots of a ground and what one storm leaves in them, by the same kernels as on the page. */
export const water: Verb = {
  help: `assart water DEM... --rain DEPTH [options]
assart water PROJECT|demo [--rain DEPTH] [options]

Low spots of a ground as it is given, brim full, and what one storm leaves in them: runoff by one
curve number for the whole ground, let come to rest hollow by hollow. Totals count every hollow; the
list is for those over the limits below and not shallower than the survey's error: what is left out for
that is counted, and said where nobody stated the error. Days to dry are for no more rain.

Of a project (as for assart answer) berms, heaps, fills, notches, culverts, outlets and ditches lie on
its ground as drawn; its soils, covers and rain are its own, and the numbers those of the page.

Options
${waterOptionsHelp}
${groundOptionsHelp}

Prints JSON in SI units. Screening, not a survey and not a permit: standing water can mean wetland;
have it looked at before any cut. Exit 0 done, 1 bad input, 2 wrong usage.`,
  async run(args) {
    const options = { ...groundOptions, ...waterOptions } as const;
    const { values, positionals } = readArguments('water', args, options, {
      least: 1,
      most: Infinity,
    });
    const plan = positionals.length === 1 ? await planIn(positionals[0]!) : null;
    if (plan) {
      const ground = await groundOfPlan(plan, values.ground, groundChoices(values, 'water'), 'water'); // prettier-ignore
      if (!ground) throw badInput(noGround);
      const { result, files } = waterOfPlan(plan, ground, values);
      if (values.out !== undefined) await writeWater(values.out, files);
      printJson(result);
      return;
    }
    const choices = waterChoices(values);
    await withFiles(positionals, async (sources) => {
      const opening = await openOrRefuse(sources, groundChoices(values, 'water'));
      if (opening.kind === 'photo') {
        throw badInput({
          code: 'water-photo',
          what: 'This is a photo, not heights.',
          where: sources[0]!.name,
          wayOut: 'Name an elevation file.',
        });
      }
      const { result, files } = waterOf(opening.grid, opening.draft, choices, values.out !== undefined); // prettier-ignore
      if (values.out !== undefined) await writeWater(values.out, files);
      printJson(result);
    });
  },
};

const noGround: Problem = {
  code: 'water-no-ground',
  what: 'The project has no ground.',
  wayOut: 'Open its elevation on the page and save it again.',
};

/** A plan where the name is one's; a name that is not there is left to the reader of grounds. */
async function planIn(path: string): Promise<PlanOnDisk | null> {
  try {
    return await planAt(path);
  } catch (error) {
    throw fileProblem(error, path) ?? error;
  }
}

function waterOf(grid: Grid, draft: GroundDraft, choices: WaterChoices, withFlow: boolean) {
  const record = { ...draft, verticalErrorMeters: choices.verticalErrorMeters };
  const ground = { grid, frame: openFrame(grid.frame), record };
  const surface = finish(makeLowSpotSurface(grid));
  const prepared = finish(makeStormGround(grid, surface));
  const list = finish(
    listSpots(ground, surface, choices.minDepthMeters, choices.minAreaSquareMeters),
  );
  const listed = list.spots;
  const { z, labels, tree, cellAreaSquareMeters: area } = prepared;
  const count = finish(countSurface(z, labels, new Uint8Array(z.length), tree.leafCount, 1));
  const storm = finish(stormWater(prepared, count, [choices.curveNumber], choices.rainMeters));
  const most = listed.at(-1)?.label ?? 0;
  const tally = pondTally(prepared, surface.labels, storm.levels, most);
  const catchments = spotCatchments(prepared, count, most);
  const standing = listed.map(({ id, label }) => {
    const hours = hoursToDry(
      tally.depths[label]!,
      choices.intakeMetersPerSecond,
      choices.evaporationMetersPerDay,
    );
    return {
      id,
      areaSquareMeters: tally.cells[label]! * area,
      volumeCubicMeters: tally.depthSums[label]! * area,
      maxDepthMeters: tally.depths[label]!,
      hoursToDry: Number.isFinite(hours) ? hours : null,
    };
  });
  const flowLines = withFlow ? flowLinesOf(ground, surface.filled, choices) : [];
  const result = {
    cells: grid.data.length,
    cellSizeMeters: grid.cellWidth,
    used: {
      ...choices,
      minDepthMeters: list.minDepthMeters,
      verticalErrorMeters: list.leftOut.errorMeters,
      verticalErrorIsStated: list.leftOut.errorIsStated,
    },
    lowSpots: listed.map(({ label, ...spot }) => ({
      ...spot,
      catchmentSquareMeters: catchments[label]! * area,
    })),
    lowSpotsInAll: surface.spots.length,
    leftOut: list.leftOut.count,
    filledVolumeCubicMeters: surface.spots.reduce((sum, spot) => sum + spot.volumeCubicMeters, 0),
    storm: {
      rainMeters: choices.rainMeters,
      durationHours: choices.durationHours,
      rainCubicMeters: storm.rainCubicMeters,
      runoffMeters: runoffMeters(choices.rainMeters, choices.curveNumber),
      /** With the rain that falls on standing water. */
      runoffCubicMeters: storm.runoffCubicMeters,
      standingCubicMeters: storm.standingCubicMeters,
      leftSiteCubicMeters: storm.leftSiteCubicMeters,
      soakedCubicMeters: storm.soakedCubicMeters,
      standing,
    },
    ...(withFlow && { flowLines: flowFacts(flowLines) }),
    findings: leftOutFindings(list.leftOut),
  };
  const pools = listed.flatMap((spot, i) => {
    if (standing[i]!.areaSquareMeters === 0) return [];
    const outline = finish(pondOutline(ground, surface.labels, prepared, storm.levels, spot.label));
    return [{ outline, properties: standing[i]! }];
  });
  const depth = { grid, draft, prepared, levels: storm.levels };
  const files: WaterFiles = { depth, pools, flowLines };
  return { result, files };
}

function flowLinesOf(
  { grid, frame }: { readonly grid: Grid; readonly frame: Frame },
  filled: Float32Array,
  { flowCatchmentSquareMeters }: WaterChoices,
): FlowLineShape[] {
  const flow = finish(flowCatchments(grid, filled));
  const options = { thresholdSquareMeters: flowCatchmentSquareMeters };
  return flowLineShapes(frame, finish(traceFlowLines(grid, filled, flow, options)));
}
