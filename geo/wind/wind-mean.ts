import { degrees, radians } from './sun-series.ts';

export interface WindMean {
  /** Mean direction it blows from, each report by its speed; NaN without any wind. */
  readonly fromDegrees: number;
  /** Length of the mean of the wind vectors, m/s. */
  readonly vectorMetersPerSecond: number;
  readonly scalarMetersPerSecond: number;
  /** Vector mean over scalar mean: 1 always from one side, 0 from all alike; NaN without wind. */
  readonly steadiness: number;
}

/**
 * Adds up winds and means them as vectors. Calm counts as no wind at all; wind without a direction
 * counts in neither mean, for no vector is known of it.
 * Example: 350 and 10 degrees at one speed: from 0, steadiness cos 10 = 0.985.
 */
export class WindSum {
  private east = 0;
  private north = 0;
  private speed = 0;
  private hours = 0;

  add(fromDegrees: number, metersPerSecond: number, hours = 1): void {
    if (metersPerSecond > 0) {
      if (Number.isNaN(fromDegrees)) return;
      const angle = radians(fromDegrees);
      this.east += hours * metersPerSecond * Math.sin(angle);
      this.north += hours * metersPerSecond * Math.cos(angle);
      this.speed += hours * metersPerSecond;
    }
    this.hours += hours;
  }

  mean(): WindMean {
    const { hours, speed } = this;
    const length = Math.hypot(this.east, this.north);
    const isNowhere = length < 1e-9 * speed || speed === 0;
    return {
      fromDegrees: isNowhere ? NaN : (degrees(Math.atan2(this.east, this.north)) + 360) % 360,
      vectorMetersPerSecond: hours > 0 ? length / hours : 0,
      scalarMetersPerSecond: hours > 0 ? speed / hours : 0,
      steadiness: speed > 0 ? length / speed : NaN,
    };
  }
}
