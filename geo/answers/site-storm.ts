import type { Storm, SurfaceCount } from '../water/storm.ts';
import type { Work } from '../work.ts';
import { waterGroundOf } from './water-ground.ts';
import type { Answer, LngLatPolygon, SiteStorm, StormPool } from './answers.ts';
import type { Inputs, SiteDefinition } from './definition.ts';
import { dryHours, dryingOf } from './drying.ts';
import type { Finding } from './finding.ts';
import { finding, surveyConfidence } from './ground-inputs.ts';
import type { ListedLowSpots } from './listed-low-spots.ts';
import type { LowSpotSurface } from './low-spot-surface.ts';
import { pondOutline } from './pond-outline.ts';
import { pondTally, type PondTally } from './pond-tally.ts';
import { rainFrequencyOf } from './rain-frequency.ts';
import { spotCatchments } from './spot-catchments.ts';
import type { StormGroundInUse } from './storm-ground.ts';
import type { StormLevels } from './storm-levels.ts';
import type { PlotOfUnknownSoil } from './plots-of-unknown-soil.ts';
import type { SurfaceClasses } from './surface-classes.ts';

/** Water that stands so long in the growing season is a sign of wetland hydrology. */
const WETLAND_HOURS = 14 * 24;
/** TR-55 ch. 2: less accurate under half an inch of runoff. */
const LITTLE_RUNOFF_METERS = 0.0127;

/** What one storm leaves standing, how deep, and for how long. */
export const siteStorm: SiteDefinition = {
  name: 'storm',
  per: 'site',
  reads: [
    'answer:lowSpotSurface',
    'answer:listedLowSpots',
    'answer:surfaceClasses',
    'answer:plotsOfUnknownSoil',
    'answer:stormGround',
    'answer:stormLevels',
    'answer:waterGround',
    'record:ground',
    'condition:rain',
    'answer:drying',
    'answer:rainFrequency',
    'setting:assumedSoilGroup',
    'setting:rainFallsOn',
  ],
  *compute(inputs): Work<Answer<SiteStorm> | null> {
    const ground = waterGroundOf(inputs);
    const surface = inputs.answer('lowSpotSurface') as LowSpotSurface | null;
    const list = inputs.answer('listedLowSpots') as ListedLowSpots | null;
    const soils = inputs.answer('surfaceClasses') as SurfaceClasses | null;
    const prepared = inputs.answer('stormGround') as StormGroundInUse | null;
    const water = inputs.answer('stormLevels') as StormLevels | null;
    if (!ground || !surface || !list || !soils || !prepared || !water) return null;
    const { depthMeters: rain, durationHours, soil } = inputs.conditions.rain;
    const { count, numbers, likely, low, high } = water;
    const most = list.spots.at(-1)?.label ?? 0;
    const [tally, tallyLow, tallyHigh] = [likely, low, high].map((storm) =>
      pondTally(prepared, surface.labels, storm.levels, most),
    ) as [PondTally, PondTally, PondTally];
    const catchments = spotCatchments(prepared, count, most);
    const area = prepared.cellAreaSquareMeters;
    const dries = dryingOf(inputs);
    const pools = list.spots.map((spot): StormPool => {
      const share = (of: PondTally) =>
        Math.min(1, (of.depthSums[spot.label]! * area) / spot.volumeCubicMeters);
      const cell = surface.spots[spot.label - 1]!.deepestCell;
      const kind = soils.classes[soils.classOf[cell]!]!;
      const intake = kind.intakeMetersPerSecond;
      return {
        id: spot.id,
        areaSquareMeters: tally.cells[spot.label]! * area,
        volumeCubicMeters: tally.depthSums[spot.label]! * area,
        maxDepthMeters: tally.depths[spot.label]!,
        fullShare: share(tally),
        fullShareLow: share(tallyLow),
        fullShareHigh: share(tallyHigh),
        catchmentSquareMeters: catchments[spot.label]! * area,
        hoursToDry: dryHours(dries, tally.depths[spot.label]!, intake),
        hoursToDryWhenFull: dryHours(dries, spot.maxDepthMeters, intake, 'growing-season'),
        deepestAt: spot.deepestAt,
      };
    });
    const outlines: Record<string, readonly LngLatPolygon[]> = {};
    for (const [i, { id, label }] of list.spots.entries()) {
      if (tally.cells[label] === 0) continue;
      outlines[id] = yield* pondOutline(ground, surface.labels, prepared, likely.levels, label);
      yield { share: (i + 1) / list.spots.length, doing: 'outlining standing water' };
    }
    const siteArea = count.cells.reduce((sum, some) => sum + some, 0) * area;
    const mean = (storm: Storm) => (siteArea === 0 ? 0 : shedDepth(storm, siteArea));
    const value: SiteStorm = {
      rainMeters: rain,
      durationHours,
      month: dries.month,
      evaporationMetersPerDay: dries.evaporationMetersPerDay,
      curveNumber: meanCurveNumber(count, numbers),
      runoffMeters: mean(likely),
      runoffLowMeters: mean(low),
      runoffHighMeters: mean(high),
      rainCubicMeters: likely.rainCubicMeters,
      runoffCubicMeters: likely.runoffCubicMeters,
      standingCubicMeters: likely.standingCubicMeters,
      leftSiteCubicMeters: likely.leftSiteCubicMeters,
      soakedCubicMeters: likely.soakedCubicMeters,
      pools,
      outlines,
    };
    return {
      value,
      findings: findingsOf(inputs, value, soils),
      basis: {
        method: [
          'Each cell sheds what its curve number says, by soil group, cover and how wet the ground is; rain on standing water is all runoff.',
          'What is shed runs to its hollow; a full hollow runs over into the next, until all of it stands or has left the site.',
          'The range is for curve numbers 3 lower and 3 higher. The curve number knows no duration: a longer rain of the same depth sheds the same here, only more slowly.',
          'If no more rain falls, standing water soaks in at the lesser of what the surface and the layer below let through, and evaporates as in the month of the storm; whether a place may be wetland is judged brim full, by the mean of the growing season.',
        ],
        source:
          'USDA TR-55 (1986) ch. 2; NEH 630 ch. 7 and 10; Barnes, Callaghan & Wickert 2021, Earth Surface Dynamics 9:105–121. Months: Molnau, Kpordze & Craine 1992 unless written down here.',
        inputs: {
          rainMeters: rain,
          durationHours,
          meanCurveNumber: value.curveNumber,
          groundBeforeRain: soil,
          soilKnownShare: soils.soilKnownShare,
          monthOfStorm: dries.month,
          evaporationPerDayMeters: dries.evaporationMetersPerDay,
          growingSeasonEvaporationPerDayMeters: dries.growingMetersPerDay,
        },
        confidence: surveyConfidence(ground),
      },
    };
  },
};

function meanCurveNumber({ cells, classCount }: SurfaceCount, numbers: readonly number[]): number {
  let all = 0;
  let sum = 0;
  for (let i = 0; i < cells.length; i++) {
    all += cells[i]!;
    sum += cells[i]! * numbers[i % classCount]!;
  }
  return all === 0 ? NaN : sum / all;
}

/** Mean depth of what runs off. */
function shedDepth(storm: Storm, siteArea: number): number {
  return storm.runoffCubicMeters / siteArea;
}

function findingsOf(inputs: Inputs, storm: SiteStorm, soils: SurfaceClasses): Finding[] {
  const findings: Finding[] = [];
  const long = storm.pools.filter(
    ({ hoursToDryWhenFull: hours }) => hours === null || hours > WETLAND_HOURS,
  );
  if (long.length > 0) {
    const hours = long.map(({ hoursToDryWhenFull }) => hoursToDryWhenFull);
    findings.push(
      finding('stop', 'may-be-wetland', [], {
        spots: long.map(({ id }) => id).join(', '),
        hours: hours.includes(null) ? null : Math.max(...(hours as number[])),
      }),
    );
  }
  if (soils.soilKnownShare < 0.995) {
    // Where no soil is drawn at all, no plot stands out.
    const plots = inputs.answer('plotsOfUnknownSoil') as readonly PlotOfUnknownSoil[];
    const said = plots
      .slice(0, 6)
      .map((one) => `${one.name} ${Math.round(one.knownShare * 100)} %`);
    findings.push(
      finding(
        'caution',
        'soils-assumed',
        plots.map(({ id }) => id),
        {
          knownShare: soils.soilKnownShare,
          group: inputs.settings.assumedSoilGroup,
          plots: said.join(', '),
        },
      ),
    );
  }
  const { table, problem } = rainFrequencyOf(inputs);
  if (problem) {
    const values = { what: problem.what, wayOut: problem.wayOut };
    findings.push(finding('caution', 'rain-table-unread', [], values));
  } else if (table && table.missingCells > 0) {
    findings.push(finding('note', 'rain-table-gaps', [], { missing: table.missingCells }));
  }
  if (soils.intakeByGroup) findings.push(finding('note', 'intake-by-group'));
  if (storm.rainMeters > 0 && storm.runoffMeters < LITTLE_RUNOFF_METERS) {
    findings.push(finding('note', 'little-runoff', [], { runoffMeters: storm.runoffMeters }));
  }
  if (storm.rainMeters > 0) findings.push(finding('note', 'duration-sheds-the-same'));
  return findings;
}
