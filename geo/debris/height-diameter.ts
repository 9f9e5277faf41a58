import { ok, type Result } from '../result.ts';
import { badNumber } from './check-numbers.ts';
import type { SpeciesGroup } from './timber-mass.ts';

type Curve = readonly [p2: number, p3: number, p4: number, bud: number];

/**
 * Height by diameter at breast height, feet and inches: 4.5 + P2 exp(-P3 D^P4), straight below 3 in
 * down to 4.51 ft at the bud's width (Curtis–Arney curves of all southern trees, US Forest Service,
 * Forest Vegetation Simulator, sn/htdbh.f). One species stands for a group; Douglas-fir is not in
 * the list and has hemlock's, woodland oak has blackjack oak's.
 */
const curves: Readonly<Record<SpeciesGroup, Curve>> = {
  'aspen-alder-cottonwood-willow': [190.9797059, 3.69278884, -0.52730469, 0.1],
  'soft-maple-birch': [268.5564351, 3.11432843, -0.29411156, 0.2],
  'mixed-hardwood': [625.7696614, 3.87320571, -0.23349496, 0.2],
  'hard-maple-oak-hickory-beech': [170.1330787, 3.27815866, -0.48744214, 0.2],
  'cedar-larch': [212.7932729, 3.47154903, -0.3258523, 0.3],
  'douglas-fir': [266.4562239, 3.99313675, -0.38600287, 0.1],
  'true-fir-hemlock': [266.4562239, 3.99313675, -0.38600287, 0.1],
  pine: [243.860648, 4.28460566, -0.47130185, 0.5],
  spruce: [2163.946776, 6.26880851, -0.2161439, 0.2],
  'juniper-oak-mesquite': [157.4828626, 3.38919504, -0.39151499, 0.2],
};

const FOOT = 0.3048;
const INCH = 0.0254;
const STRAIGHT_INCHES = 3;
/** A curve asked for more is past what it was fitted to. */
const THICKEST = 2;

/**
 * Height of a tree by its diameter at breast height, metres.
 * Throws RangeError for a diameter not above 0.
 * Example: an oak of 0.28 m (11 in) is 20 m high.
 */
export function heightOfDiameter(group: SpeciesGroup, diameterMeters: number): number {
  if (!(diameterMeters > 0 && diameterMeters < Infinity)) {
    throw new RangeError(`a tree ${diameterMeters} m thick`);
  }
  const curve = curves[group];
  const inches = diameterMeters / INCH;
  if (inches >= STRAIGHT_INCHES) return curved(curve, inches) * FOOT;
  const bud = curve[3];
  const rise = (curved(curve, STRAIGHT_INCHES) - 4.51) / (STRAIGHT_INCHES - bud);
  return Math.max(0, 4.51 + rise * (inches - bud)) * FOOT;
}

/**
 * Diameter at breast height of a tree by its height, metres: the curve the other way. Null for a
 * tree higher than its group's curve has, or lower than breast height: nothing can be suggested.
 * Problems: a height out of bounds.
 * Example: an oak 20 m high suggests 0.28 m.
 */
export function diameterOfHeight(group: SpeciesGroup, heightMeters: number): Result<number | null> {
  const bad = badNumber({ 'height of a tree': heightMeters }, 0, 130);
  if (bad) return bad;
  const [p2, p3, p4, bud] = curves[group];
  const feet = heightMeters / FOOT;
  if (feet <= 4.51) return ok(null);
  const least = curved(curves[group], STRAIGHT_INCHES);
  if (feet < least) {
    return ok((bud + ((feet - 4.51) * (STRAIGHT_INCHES - bud)) / (least - 4.51)) * INCH);
  }
  if (feet - 4.5 >= p2) return ok(null);
  const meters = (Math.log((feet - 4.5) / p2) / -p3) ** (1 / p4) * INCH;
  return ok(meters <= THICKEST ? meters : null);
}

function curved([p2, p3, p4]: Curve, inches: number): number {
  return 4.5 + p2 * Math.exp(-p3 * inches ** p4);
}
