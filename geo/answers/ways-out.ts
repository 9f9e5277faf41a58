import { drainPath, pathLine } from '../water/drain-path.ts';
import { fairNotch } from '../water/fair-notch.ts';
import { fillIn } from '../water/fill-in.ts';
import { groundBelow } from '../water/ground-below.ts';
import type { NotchDesign } from '../water/notch.ts';
import { spoilStrip, type SpoilStrip } from '../water/spoil-strip.ts';
import type { Work } from '../work.ts';
import type { Answer, WaysOut, WayOut } from './answers.ts';
import type { GroundInUse, SiteDefinition } from './definition.ts';
import { diggingBars, diggingMask, diggingReads } from './digging-mask.ts';
import type { Finding } from './finding.ts';
import { finding, surveyConfidence, trueBearing } from './ground-inputs.ts';
import type { ListedLowSpots } from './listed-low-spots.ts';
import type { LowSpotSurface } from './low-spot-surface.ts';
import { waterGroundOf } from './water-ground.ts';

/** A way out is sought for the largest of the list; a person works at a few, not at hundreds. */
export const MOST_WAYS = 8;

/** The least cut that lets each low spot out, against filling it. */
export const waysOut: SiteDefinition = {
  name: 'waysOut',
  per: 'site',
  reads: [
    'answer:waterGround',
    'answer:lowSpotSurface',
    'answer:listedLowSpots',
    'record:ground',
    ...diggingReads,
  ],
  *compute(inputs): Work<Answer<WaysOut> | null> {
    const ground = waterGroundOf(inputs);
    const surface = inputs.answer('lowSpotSurface') as LowSpotSurface | null;
    const list = inputs.answer('listedLowSpots') as ListedLowSpots | null;
    if (!ground || !surface || !list) return null;
    const blocked = diggingMask(inputs, ground);
    const ways: WayOut[] = [];
    const findings: Finding[] = [];
    for (const spot of list.spots.slice(0, MOST_WAYS)) {
      const start = surface.spots[spot.label - 1]!.deepestCell;
      const fill = fillIn(spot);
      const found = yield* drainPath(ground.grid, surface.filled, { start, blocked });
      if (!found.ok) {
        const bars = found.blockedBy.map((code) => diggingBars[code - 1]!);
        ways.push({ id: spot.id, notch: null, why: found.problem.what, bars, fill });
        if (bars.length > 0) {
          const values = { spot: spot.id, bars: bars.join(', ') };
          findings.push(finding('stop', 'way-out-barred', [], values));
        }
        continue;
      }
      const line = pathLine(ground.grid, found.value.cells);
      const design = yield* fairNotch(ground.grid, line, { blocked });
      const bars = design.touches.map((code) => diggingBars[code - 1]!);
      const spoil = spoilStrip(ground.grid, design, {
        blocked,
        spotSquareMeters: spot.areaSquareMeters,
      });
      const notch = notchOf(ground, design, spoil);
      ways.push({ id: spot.id, notch, why: null, bars, fill });
    }
    return {
      value: { ways },
      findings,
      basis: {
        method: [
          'Seeks the way from the deepest place to lower ground that costs the least dirt for a notch 7 ft wide at the bottom with sides of 6 to 1, which a disk can cross, falling 0.5 % all along.',
          'Keeps off ground outside the property, wetland, stream buffers, buried lines (10 ft each side), neighbours, roads and other no-go ground.',
          'Bank yards are the body between notch and ground; the range is for a cut 2 in shallower and deeper.',
          'Spoil is spread 6 in thick on the lower side along the cut where it finds room within 60 ft, else in the low spot itself.',
          'Filling instead counts 15 % shrink, and leaves the place dead level.',
        ],
        source:
          'Lindsay 2016, Hydrological Processes 30:846–857 (least-cost breach), with dirt as the cost. Shrink, section and spoil: common practice, no source.',
        inputs: { sought: Math.min(MOST_WAYS, list.spots.length), listed: list.spots.length },
        confidence: surveyConfidence(ground),
      },
    };
  },
};

function lngLat({ frame }: GroundInUse, [x, y]: readonly [number, number]): [number, number] {
  const [lng, lat] = frame.toLngLat(x, y);
  return [Math.round(lng * 1e9) / 1e9, Math.round(lat * 1e9) / 1e9];
}

function notchOf(
  ground: GroundInUse,
  design: NotchDesign,
  spoil: SpoilStrip,
): NonNullable<WayOut['notch']> {
  const toLngLat = (at: readonly [number, number]) => lngLat(ground, at);
  const below = groundBelow(ground.grid, design.line);
  return {
    line: design.line.map(toLngLat),
    lengthMeters: design.lengthMeters,
    maxCutMeters: design.maxCutMeters,
    bottomWidthMeters: design.section.bottomWidthMeters,
    sideRun: design.section.sideRun,
    startBottomMeters: design.startBottomMeters,
    endBottomMeters: design.startBottomMeters - design.section.gradeRatio * design.lengthMeters,
    bankCubicMeters: design.bankCubicMeters,
    looseCubicMeters: design.looseCubicMeters,
    stations: design.stations.map(
      ({ stationMeters, at, groundMeters, bottomMeters, cutMeters }) => ({
        stationMeters,
        at: toLngLat(at),
        groundMeters,
        bottomMeters,
        cutMeters,
      }),
    ),
    gradeRatio: design.section.gradeRatio,
    topWidthMeters:
      design.stations.reduce((sum, stake) => sum + stake.topWidthMeters, 0) /
      design.stations.length,
    outletSlopeRatio: below.outletSlopeRatio,
    steepestBelowRatio: below.steepestRatio,
    steepBelow: below.steep,
    spoil: {
      place: spoil.place,
      side: spoil.side,
      towardDegrees: trueBearing(
        ground,
        (Math.atan2(...spoil.toward) * 180) / Math.PI,
        ...design.line[0]!,
      ),
      lengthMeters: spoil.lengthMeters,
      widthMeters: spoil.widthMeters,
      thicknessMeters: spoil.thicknessMeters,
      pushMeters: spoil.pushMeters,
    },
    comesOut: design.daylights,
  };
}
