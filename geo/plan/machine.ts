import * as v from 'valibot';

/** The figures of a machine that clears, as the settings hold those of the one in use. */
export const machineFigures = {
  /** Of the engine, at the flywheel. */
  dozerPowerWatts: v.pipe(v.number(), v.minValue(10_000), v.maxValue(2e6)),
  /** Loose dirt that one blade carries. */
  dozerBladeLoadCubicMeters: v.pipe(v.number(), v.minValue(0.1), v.maxValue(50)),
  dozerBladeWidthMeters: v.pipe(v.number(), v.minValue(1), v.maxValue(8)),
  /** With its operator, in the plan's own money; null while nobody has said. */
  dozerHourlyRate: v.nullable(v.pipe(v.number(), v.minValue(0), v.maxValue(100_000))),
  /** Ground that the user has cleared with it in so many hours: comes before any table. */
  loggedClearing: v.pipe(
    v.array(
      v.object({
        areaSquareMeters: v.pipe(v.number(), v.gtValue(0), v.maxValue(1e8)),
        hours: v.pipe(v.number(), v.gtValue(0), v.maxValue(10_000)),
      }),
    ),
    v.maxLength(200),
  ),
} as const;

const figures = v.strictObject(machineFigures);
export type MachineFigures = v.InferOutput<typeof figures>;

/** Machines by name, to be picked from; which one is in use is told by its figures. */
export const machineList = v.pipe(
  v.array(v.strictObject({ name: v.pipe(v.string(), v.minLength(1), v.maxLength(60)), figures })),
  v.maxLength(50),
);
export type Machine = v.InferOutput<typeof machineList>[number];

const keys = Object.keys(machineFigures) as (keyof MachineFigures)[];

/** The figures of the machine in use. */
export function machineInUse(settings: MachineFigures): MachineFigures {
  return Object.fromEntries(keys.map((key) => [key, settings[key]])) as unknown as MachineFigures;
}

/** Whether two machines are alike in every figure and in what was logged with them. */
export function isSameMachine(a: MachineFigures, b: MachineFigures): boolean {
  return keys.every((key) => JSON.stringify(a[key]) === JSON.stringify(b[key]));
}

/** The list with a machine of that name in it: after the others, or in the place of its namesake. */
export function keptMachine(
  list: readonly Machine[],
  name: string,
  of: MachineFigures,
): readonly Machine[] {
  const kept = { name, figures: machineInUse(of) };
  if (!list.some((one) => one.name === name)) return [...list, kept];
  return list.map((one) => (one.name === name ? kept : one));
}
