import type { UnitSystem } from '../../words/format.ts';
import type { Reading } from '../fields.tsx';

const CUBIC_YARD = 0.9144 ** 3;

/** A loose volume as it is written and read; a bare number is in the page's own unit. */
export function volumeField(
  cubicMeters: number,
  units: UnitSystem,
  [least, most]: readonly [number, number],
  example: string,
): { readonly shown: string; readonly read: (text: string) => Reading<number> } {
  const isMetric = units === 'metric';
  const plain = (value: number) => Number(value.toPrecision(3));
  return {
    shown: isMetric ? `${plain(cubicMeters)} m³` : `${plain(cubicMeters / CUBIC_YARD)} yd³`,
    read(text) {
      const found = /^(\d+(?:\.\d+)?)\s*(yd|yd3|yd³|m3|m³)?$/.exec(text.trim().toLowerCase());
      const inMeters = found?.[2] ? found[2].startsWith('m') : isMetric;
      const volume = found ? Number(found[1]) * (inMeters ? 1 : CUBIC_YARD) : NaN;
      if (volume >= least && volume <= most) return { value: volume };
      const [from, to] = [least, most].map((one) => plain(one / CUBIC_YARD));
      return { wrong: `Write loose yards from ${from} to ${to}, such as ${example}.` };
    },
  };
}
