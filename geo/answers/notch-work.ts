import { dirtMinutes, type Dozer } from '../estimate/dirt-minutes.ts';
import type { Answer, WaysOut } from './answers.ts';
import type { SiteDefinition } from './definition.ts';
import type { ListedLowSpots } from './listed-low-spots.ts';
import type { NotchJob, NotchWork } from './notch-answers.ts';

/** Dirt for filling comes from so far; 200 ft, the middle of what is pushed: common practice. */
const FILL_PUSH_METERS = 60.96;
/** Loose over bank for loam (handbook §4.4), as the notch's own loose yards are counted. */
const SWELL = 1.25;

/** Machine minutes of each way out against filling the spot, and the better of the two. */
export const notchWork: SiteDefinition = {
  name: 'notchWork',
  per: 'site',
  reads: [
    'answer:waysOut',
    'answer:listedLowSpots',
    'setting:dozerBladeLoadCubicMeters',
    'setting:dozerBladeWidthMeters',
    'setting:dozerOperator',
  ],
  compute(inputs): { done: Answer<NotchWork> | null } {
    const waysOut = inputs.answer('waysOut') as Answer<WaysOut> | null;
    const list = inputs.answer('listedLowSpots') as ListedLowSpots | null;
    if (!waysOut || !list) return { done: null };
    const { settings } = inputs;
    const dozer: Dozer = {
      bladeLoadCubicMeters: settings.dozerBladeLoadCubicMeters,
      bladeWidthMeters: settings.dozerBladeWidthMeters,
      operator: settings.dozerOperator,
    };
    const jobs = waysOut.value.ways.map(({ id, notch, bars, fill }, k): NotchJob => {
      const { low, likely, high } = fill.bankCubicMeters;
      const loose = { low: low * SWELL, likely: likely * SWELL, high: high * SWELL };
      const area = list.spots[k]!.areaSquareMeters;
      const fillMinutes = dirtMinutes(loose, FILL_PUSH_METERS, area, dozer);
      const cutMinutes =
        notch &&
        dirtMinutes(
          notch.looseCubicMeters,
          notch.spoil.pushMeters,
          // Its own faces and the strip of spoil.
          notch.lengthMeters * notch.topWidthMeters +
            notch.spoil.lengthMeters * notch.spoil.widthMeters,
          dozer,
        );
      const better =
        bars.length > 0
          ? 'neither'
          : cutMinutes && cutMinutes.likely <= fillMinutes.likely
            ? 'cut'
            : 'fill';
      return { id, cutMinutes, fillMinutes, better };
    });
    return {
      done: {
        value: { jobs, fillPushMeters: FILL_PUSH_METERS },
        findings: [],
        basis: {
          method: [
            'Blade loads of loose dirt, each pushed ahead at 2 mph and backed home at 3.5 mph with 0.05 min lost at each turn, times the operator’s factor and 50 minutes of the hour; and what is cut, filled or spread bladed over four times.',
            'The least time is for the least dirt and an excellent operator; the most for the most dirt, a poor operator and 40 minutes of the hour.',
            'Spoil goes as far as its strip; dirt to fill with is borrowed 200 ft away. Moving the machine in, wet ground and seeding are not counted.',
          ],
          source:
            'Form and factors: maker’s performance handbook and US Army FM 5-434 (2000) ch. 2. Blade load, speeds, passes and the borrow’s distance: common practice, no source.',
          inputs: {
            bladeLoadCubicMeters: dozer.bladeLoadCubicMeters,
            bladeWidthMeters: dozer.bladeWidthMeters,
            operator: dozer.operator,
            borrowPushMeters: FILL_PUSH_METERS,
          },
          confidence: 'An estimate within a factor of two: time the first hour and set the blade load by it.', // prettier-ignore
        },
      },
    };
  },
};
