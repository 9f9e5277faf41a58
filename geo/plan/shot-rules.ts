import * as v from 'valibot';

const shot = v.pipe(v.number(), v.minValue(1), v.maxValue(5000));
const setback = v.pipe(v.number(), v.minValue(0), v.maxValue(5000));

/** What a stand is held to by what it is hunted with, metres; 0 asks for no setback. */
const shotRule = v.strictObject({
  /** Targets stand at most so far off. */
  rangeMeters: shot,
  /** A shot strikes earth at most so far off. */
  earthWithinMeters: shot,
  /** Other stands, buildings and roads in the line count within. */
  othersWithinMeters: shot,
  dwellingMeters: setback,
  /** Cabin or barn. */
  buildingMeters: setback,
  roadMeters: setback,
  /** Property line or a neighbour's ground. */
  lineMeters: setback,
});

export const shotRulesSchema = v.strictObject({
  bow: shotRule,
  shotgun: shotRule,
  rifle: shotRule,
});

export type ShotRule = v.InferOutput<typeof shotRule>;
export type ShotRules = v.InferOutput<typeof shotRulesSchema>;
export type Weapon = keyof ShotRules;

/**
 * Ranges: the far ends of trade notes S2 (30, 150, 250 yd), common practice. Other stands: 300 yd for
 * guns. Dwelling: 500 ft, the commonest of the states' for guns (100 to 1,320), and 150 ft for a bow
 * (100 to 660) [S21]. Backstop, cabin or barn, road and line: common practice, no source.
 */
export const usualShotRules: ShotRules = {
  bow: {
    rangeMeters: 27.432,
    earthWithinMeters: 54.864,
    othersWithinMeters: 91.44,
    dwellingMeters: 45.72,
    buildingMeters: 45.72,
    roadMeters: 15.24,
    lineMeters: 15.24,
  },
  shotgun: {
    rangeMeters: 137.16,
    earthWithinMeters: 274.32,
    othersWithinMeters: 274.32,
    dwellingMeters: 152.4,
    buildingMeters: 152.4,
    roadMeters: 45.72,
    lineMeters: 30.48,
  },
  rifle: {
    rangeMeters: 228.6,
    earthWithinMeters: 365.76,
    othersWithinMeters: 274.32,
    dwellingMeters: 152.4,
    buildingMeters: 152.4,
    roadMeters: 45.72,
    lineMeters: 30.48,
  },
};
