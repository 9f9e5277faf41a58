import { afterStorm } from './after-storm.ts';
import { bareFlow } from './bare-flow.ts';
import { bermLine } from './berm-line.ts';
import type { Definition } from './definition.ts';
import { canopyStems } from './canopy-stems.ts';
import { clearingWork } from './clearing-work.ts';
import { clearingWays } from './clearing-ways.ts';
import { clearedOutlines } from './cleared-outlines.ts';
import { culvertQuestions } from './culvert-questions.ts';
import { burning } from './burning.ts';
import { bermGaps } from './berm-gaps.ts';
import { gapWind, wayWind } from './gap-wind.ts';
import { bermHolds } from './berm-holds.ts';
import { heapHolds } from './heap-holds.ts';
import { damming } from './damming.ts';
import { lettingGaps } from './gaps-to-add.ts';
import { debrisScale } from './debris-scale.ts';
import { debrisBlocks } from './debris-blocks.ts';
import { debrisPlan } from './debris-plan.ts';
import { siteDebris } from './site-debris.ts';
import { timberDebris } from './timber-debris.ts';
import { drying } from './drying.ts';
import { flowLines } from './flow-lines.ts';
import { listedLowSpots } from './listed-low-spots.ts';
import { lowSpotSurface } from './low-spot-surface.ts';
import { plantable } from './plantable.ts';
import { plotGround } from './plot-ground.ts';
import { plotLowSpots } from './plot-low-spots.ts';
import { notchFlows } from './notch-flows.ts';
import { notchWork } from './notch-work.ts';
import { rainFrequency } from './rain-frequency.ts';
import { sectionLine } from './section-line.ts';
import { sectionWater } from './section-water.ts';
import { shapeMeasure } from './shape-measure.ts';
import { siteFlow } from './site-flow.ts';
import { siteGround } from './site-ground.ts';
import { siteLowSpots } from './site-low-spots.ts';
import { plotsOfUnknownSoil } from './plots-of-unknown-soil.ts';
import { plotStorm } from './plot-storm.ts';
import { stormLevels } from './storm-levels.ts';
import { siteStorm } from './site-storm.ts';
import { stormGround } from './storm-ground.ts';
import { surfaceClasses } from './surface-classes.ts';
import { spotDetails } from './spot-details.ts';
import { spotCovers, spotFlow } from './spot-flow.ts';
import { spotsSure } from './spots-sure.ts';
import { waysOut } from './ways-out.ts';
import { waterGround } from './water-ground.ts';
import { seatReaches, seatsOnGround } from './seats.ts';
import { laneSite } from './lane-site.ts';
import { standLanes } from './stand-lanes.ts';
import { standSeasons } from './stand-seasons.ts';
import { airWindows, coldAir, siteAir } from './cold-air.ts';
import { eveningPools } from './evening-pools.ts';
import { standWinds } from './stand-winds.ts';
import { siteWind } from './site-wind.ts';
import { sitePlace, windRecord } from './wind-record.ts';
import { sightGround } from './sight-ground.ts';
import { siteBands } from './site-bands.ts';
import { siting } from './siting.ts';
import { standGround } from './stand-ground.ts';
import { standSight } from './stand-sight.ts';
import { standShots } from './stand-shots.ts';

/** Every answer that Assart gives, each after those that it reads. */
export const definitions: readonly Definition[] = [
  siteGround,
  plotGround,
  plantable,
  bermLine,
  debrisScale,
  timberDebris,
  debrisBlocks,
  debrisPlan,
  siteDebris,
  bermHolds,
  sitePlace,
  windRecord,
  siteWind,
  heapHolds,
  seatsOnGround,
  seatReaches,
  sectionLine,
  shapeMeasure,
  waterGround,
  lowSpotSurface,
  listedLowSpots,
  siteLowSpots,
  plotLowSpots,
  drying,
  rainFrequency,
  clearedOutlines,
  surfaceClasses,
  plotsOfUnknownSoil,
  stormGround,
  stormLevels,
  siteStorm,
  plotStorm,
  sectionWater,
  afterStorm,
  bareFlow,
  siteFlow,
  flowLines,
  damming,
  gapWind,
  bermGaps,
  lettingGaps,
  sightGround,
  airWindows,
  coldAir,
  eveningPools,
  standWinds,
  standGround,
  standShots,
  standSight,
  canopyStems,
  standSeasons,
  laneSite,
  standLanes,
  clearingWork,
  burning,
  wayWind,
  clearingWays,
  waysOut,
  notchWork,
  spotFlow,
  spotDetails,
  culvertQuestions,
  spotCovers,
  notchFlows,
  spotsSure,
  siteBands,
  siteAir,
  siting,
];
