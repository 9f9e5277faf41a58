import type { ReactElement } from 'react';
import { feetFromMeters, metersFromFeet } from '../../../geo/frame/units.ts';
import type { PlanFeature } from '../../../geo/plan/feature.ts';
import { useSession } from '../../store/use-session.ts';
import { station, tape, type UnitSystem } from '../../words/format.ts';
import { bareLengthUnit, parseLength } from '../../words/parse-measure.ts';
import { WrittenField } from '../fields.tsx';
import { useServices } from '../services.ts';

/** A wildlife gap is 12 to 20 ft wide (common practice); a new one starts in the middle of that. */
const NEW_GAP_METERS = metersFromFeet(16);

/** The gaps of a berm: station of the middle of each, and how wide it stands open. */
export function GapList({ feature }: { readonly feature: PlanFeature<'berm'> }): ReactElement {
  const units = useSession((state) => state.settings.units);
  const length = useSession((state) => state.answers[feature.id]?.bermLine?.value.lengthMeters);
  const services = useServices();
  const gaps = feature.properties.gaps;
  const put = (next: typeof gaps): void =>
    services.setProperty(
      feature.id,
      'gaps',
      [...next].sort((a, b) => a.stationMeters - b.stationMeters),
    );
  const change = (index: number, part: Partial<(typeof gaps)[number]>): void =>
    put(gaps.map((gap, at) => (at === index ? { ...gap, ...part } : gap)));
  return (
    <fieldset className="gaps">
      <legend className="narrow">Gaps</legend>
      {gaps.map((gap, index) => (
        <div className="gap" key={`${gap.stationMeters} ${index}`}>
          <WrittenField
            label="At station"
            shown={station(gap.stationMeters, units)}
            read={(text) => readStation(text, units, length)}
            onValue={(stationMeters) => change(index, { stationMeters })}
          />
          <WrittenField
            label="Open"
            shown={tape(gap.widthMeters, units)}
            read={(text) => {
              const value = parseLength(text, bareLengthUnit(units, false));
              return value === null ? { wrong: 'Write a width, such as 16 ft.' } : { value };
            }}
            onValue={(widthMeters) => change(index, { widthMeters })}
          />
          <button
            type="button"
            className="text-button narrow"
            onClick={() => put(gaps.filter((_, at) => at !== index))}
          >
            Close this gap
          </button>
        </div>
      ))}
      <button
        type="button"
        className="text-button narrow"
        onClick={() =>
          put([...gaps, { stationMeters: (length ?? 0) / 2, widthMeters: NEW_GAP_METERS }])
        }
      >
        Add a gap
      </button>
    </fieldset>
  );
}

/** "1+25", or a plain length along the line. */
function readStation(
  text: string,
  units: UnitSystem,
  length: number | undefined,
): { value: number } | { wrong: string } {
  const found = /^\s*(\d+)\s*\+\s*(\d+(?:\.\d+)?)\s*$/.exec(text);
  const base = units === 'metric' ? 1000 : 100;
  const along = found ? Number(found[1]) * base + Number(found[2]) : null;
  const meters =
    along === null
      ? parseLength(text, bareLengthUnit(units, false))
      : units === 'metric'
        ? along
        : metersFromFeet(along);
  if (meters === null) return { wrong: 'Write a station, such as 1+25.' };
  if (length !== undefined && meters > length) {
    const end = station(length, units);
    const words = units === 'metric' ? '' : ` (${Math.round(feetFromMeters(length))} ft)`;
    return { wrong: `The berm ends at ${end}${words}.` };
  }
  return { value: meters };
}
