import { figure } from './format.ts';

/** Mechanical horsepower, 550 ft lb a second. */
export const WATTS_PER_HORSEPOWER = 745.7;

/** "100 hp". */
export function horsepower(watts: number): string {
  return `${figure(watts / WATTS_PER_HORSEPOWER, 0)} hp`;
}
