import { isKind, type PlanFeature } from '../plan/feature.ts';
import { lineLength, placeAt } from '../plan/line-geometry.ts';
import type { Answer, WaysOut } from './answers.ts';
import type { GroundInUse, Inputs, SiteDefinition } from './definition.ts';
import type { Finding } from './finding.ts';
import { finding, inFrame, surveyConfidence } from './ground-inputs.ts';
import type { SpotDetails } from './flow-answers.ts';
import type { CulvertQuestion, CulvertQuestions } from './notch-answers.ts';
import { isRaised } from './plan-on-ground.ts';
import { waterGroundOf } from './water-ground.ts';

type XY = readonly [number, number];

/** A road's fill reaches so far from its line, metres: half a track and its shoulder (ours). */
const ROAD_REACH = 8;
/** A culvert drawn so near is the one that is asked for; an answer given so near holds. */
const CULVERT_REACH = 20;

/** Whether there is a culvert already where a road holds water back: asked before any cut. */
export const culvertQuestions: SiteDefinition = {
  name: 'culvertQuestions',
  per: 'site',
  reads: [
    'answer:waysOut',
    'answer:spotDetails',
    'answer:waterGround',
    'record:ground',
    'features:lane',
    'features:structure',
    'features:culvert',
    'setting:noCulvertAt',
  ],
  compute(inputs): { done: Answer<CulvertQuestions> | null } {
    const waysOut = inputs.answer('waysOut') as Answer<WaysOut> | null;
    const details = inputs.answer('spotDetails') as Answer<SpotDetails> | null;
    const ground = waterGroundOf(inputs);
    if (!waysOut || !details || !ground) return { done: null };
    const roads = roadsOf(inputs, ground);
    const questions = waysOut.value.ways.flatMap(({ id, notch }, i): CulvertQuestion[] => {
      const way = lineOf(ground, notch?.line ?? []);
      const spill = inFrame(ground.frame, [...details.value.spots[i]!.spillsAt]);
      const hit = nearestRoad(roads, way ?? [], spill);
      if (!hit) return [];
      const at = ground.frame.toLngLat(...hit.at);
      const { road } = hit;
      return [{ id, roadId: road.id, roadName: road.name, at, state: stateAt(inputs, ground, hit.at) }]; // prettier-ignore
    });
    const open = questions.filter(({ state }) => state !== 'none-there');
    return {
      done: {
        value: { questions },
        findings: open.map(({ id, roadId, state }): Finding =>
          state === 'ask'
            ? finding('caution', 'culvert-first', [roadId], { spot: id })
            : finding('note', 'culvert-drawn', [roadId], { spot: id }),
        ),
        basis: {
          method: [
            'Looks whether a road, a track or a lane on a fill lies within 26 ft of where the low spot runs over, or is crossed by its notch.',
            'A survey sees the fill and not the pipe through it, so the water may be none at all.',
          ],
          source: 'Common practice, no source.',
          inputs: {},
          confidence: surveyConfidence(ground),
        },
      },
    };
  },
};

interface Road {
  readonly road: PlanFeature;
  readonly line: readonly XY[];
}

function roadsOf(inputs: Inputs, ground: GroundInUse): Road[] {
  const structures = inputs
    .features('structure')
    .filter(
      (one) =>
        isKind(one, 'structure') &&
        (one.properties.use === 'road' || one.properties.use === 'track'),
    );
  // A lane is walked in on and lies on the ground as it is, unless it says how high its fill stands.
  const onFill = inputs.features('lane').filter(isRaised);
  return [...onFill, ...structures]
    .toSorted((a, b) => (a.id < b.id ? -1 : 1))
    .flatMap((road) => {
      const { geometry } = road;
      const places =
        geometry.type === 'LineString'
          ? geometry.coordinates
          : geometry.type === 'Polygon'
            ? geometry.coordinates[0]
            : [];
      const line = lineOf(ground, places);
      return line ? [{ road, line }] : [];
    });
}

function lineOf({ frame }: GroundInUse, places: readonly XY[]): XY[] | null {
  const line = places.map((place) => inFrame(frame, [...place]));
  return line.length < 2 || line.includes(null) ? null : (line as XY[]);
}

/** The road nearest to the way or the spill, and where, if any is in reach; the first of equals. */
function nearestRoad(roads: readonly Road[], way: readonly XY[], spill: XY | null) {
  const points = alongWay(way);
  let best: { readonly road: PlanFeature; readonly at: XY } | null = null;
  let least = ROAD_REACH;
  for (const { road, line } of roads) {
    for (const point of points) {
      const { at, distance } = nearestOn(line, point);
      // The way itself must cross the road, the spill need only lie on its fill.
      if (distance <= STEP && (best === null || distance < least)) {
        best = { road, at };
        least = distance;
      }
    }
    if (!spill) continue;
    const { at, distance } = nearestOn(line, spill);
    if (distance >= least) continue;
    best = { road, at };
    least = distance;
  }
  return best;
}

/** Between looks along the way, metres. */
const STEP = 1;

function alongWay(way: readonly XY[]): XY[] {
  const length = lineLength(way);
  if (!(length > 0)) return [];
  const count = Math.ceil(length / STEP);
  return Array.from({ length: count + 1 }, (_, i) => placeAt(way, (length * i) / count).at);
}

function nearestOn(
  line: readonly XY[],
  [x, y]: XY,
): { readonly at: XY; readonly distance: number } {
  let at: XY = line[0]!;
  let distance = Infinity;
  for (let i = 1; i < line.length; i++) {
    const [ax, ay] = line[i - 1]!;
    const [dx, dy] = [line[i]![0] - ax, line[i]![1] - ay];
    const square = dx * dx + dy * dy;
    const share = square === 0 ? 0 : Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / square)); // prettier-ignore
    const on: XY = [ax + share * dx, ay + share * dy];
    const away = Math.hypot(on[0] - x, on[1] - y);
    if (away < distance) {
      distance = away;
      at = on;
    }
  }
  return { at, distance };
}

function stateAt(inputs: Inputs, ground: GroundInUse, at: XY): CulvertQuestion['state'] {
  const drawn = inputs.features('culvert').some(({ geometry }) => {
    const line = geometry.type === 'LineString' ? lineOf(ground, geometry.coordinates) : null;
    return line !== null && nearestOn(line, at).distance <= CULVERT_REACH;
  });
  if (drawn) return 'drawn';
  const denied = inputs.settings.noCulvertAt.some((place) => {
    const there = inFrame(ground.frame, place);
    return there && Math.hypot(there[0] - at[0], there[1] - at[1]) <= CULVERT_REACH;
  });
  return denied ? 'none-there' : 'ask';
}
