import { answerPlan, definitionsFor } from '../../geo/answers/answer-plan.ts';
import type { GroundInUse } from '../../geo/answers/definition.ts';
import type { StormGroundInUse } from '../../geo/answers/storm-ground.ts';
import type { StormLevels } from '../../geo/answers/storm-levels.ts';
import type { WaterGround } from '../../geo/answers/water-ground.ts';
import { flowFacts } from './flow-facts.ts';
import type { PlanOnDisk } from './read-plan.ts';
import type { WaterFiles } from './water-files.ts';
import { planChoices, type WaterValues } from './water-options.ts';

/**
 * Low spots, storm and flow lines of a project, by the answers of the page: what is drawn lies on its
 * ground, soils and covers are its own.
 */
export function waterOfPlan(plan: PlanOnDisk, ground: GroundInUse, values: WaterValues) {
  const { settings, conditions } = planChoices(values, plan);
  const hidden = new Map<string, unknown>();
  const { site } = answerPlan(
    { features: plan.features, settings, conditions, rasters: { ground } },
    definitionsFor(['lowSpots', 'storm', ...(values.out === undefined ? [] : ['flowLines'])]),
    (name, value) => hidden.set(name, value),
  );
  const { lowSpots, totalCount, totalVolumeCubicMeters, leftOut } = site.lowSpots!.value;
  const storm = site.storm!.value;
  const { grid, carries } = hidden.get('waterGround') as WaterGround;
  const prepared = hidden.get('stormGround') as StormGroundInUse;
  const { levels } = (hidden.get('stormLevels') as StormLevels).likely;
  const standing = storm.pools.map((pool) => ({
    id: pool.id,
    areaSquareMeters: pool.areaSquareMeters,
    volumeCubicMeters: pool.volumeCubicMeters,
    maxDepthMeters: pool.maxDepthMeters,
    hoursToDry: pool.hoursToDry,
  }));
  const catchments = new Map(storm.pools.map((pool) => [pool.id, pool.catchmentSquareMeters]));
  const flowLines = site.flowLines?.value.lines ?? [];
  const result = {
    cells: grid.data.length,
    cellSizeMeters: grid.cellWidth,
    used: {
      rainMeters: storm.rainMeters,
      durationHours: storm.durationHours,
      groundBeforeRain: conditions.rain.soil,
      meanCurveNumber: storm.curveNumber,
      evaporationMetersPerDay: storm.evaporationMetersPerDay,
      month: storm.month,
      minDepthMeters: site.lowSpots!.value.listMinDepthMeters,
      minAreaSquareMeters: site.lowSpots!.value.listMinAreaSquareMeters,
      verticalErrorMeters: leftOut.errorMeters,
      verticalErrorIsStated: leftOut.errorIsStated,
      flowCatchmentSquareMeters: settings.flowCatchmentSquareMeters,
      waterOn: settings.waterOn,
      /** What is drawn that lies on this ground or is cut into it. */
      carries: carries.map(({ id, kind, name }) => ({ id, kind, name })),
    },
    lowSpots: lowSpots.map((spot) => ({
      ...spot,
      catchmentSquareMeters: catchments.get(spot.id) ?? null,
    })),
    lowSpotsInAll: totalCount,
    leftOut: leftOut.count,
    filledVolumeCubicMeters: totalVolumeCubicMeters,
    storm: {
      rainMeters: storm.rainMeters,
      durationHours: storm.durationHours,
      rainCubicMeters: storm.rainCubicMeters,
      runoffMeters: storm.runoffMeters,
      runoffCubicMeters: storm.runoffCubicMeters,
      standingCubicMeters: storm.standingCubicMeters,
      leftSiteCubicMeters: storm.leftSiteCubicMeters,
      soakedCubicMeters: storm.soakedCubicMeters,
      standing,
    },
    ...(values.out !== undefined && { flowLines: flowFacts(flowLines) }),
    findings: [...site.lowSpots!.findings, ...site.storm!.findings],
    ...(plan.notes.length > 0 && { notes: plan.notes }),
  };
  const files: WaterFiles = {
    depth: { grid, draft: ground.record, prepared, levels },
    pools: standing.flatMap((properties) => {
      const outline = storm.outlines[properties.id];
      return outline ? [{ outline, properties }] : [];
    }),
    flowLines,
  };
  return { result, files };
}
