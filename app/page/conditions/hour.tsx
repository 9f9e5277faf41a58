import { useMemo, type CSSProperties, type ReactElement } from 'react';
import { useShallow } from 'zustand/react/shallow';
import { sunTimes } from '../../../geo/wind/sun-times.ts';
import { useSession } from '../../store/use-session.ts';
import {
  dateField,
  dayAround,
  onDate,
  shortDate,
  span,
  timeOfDay,
  zoneInUse,
} from '../../words/clock.ts';
import { useServices } from '../services.ts';
import { Scale, type Graduation } from './scale.tsx';
import { sitePlace } from './site-place.ts';
import { upperFirst } from '../../words/upper-first.ts';
import { Said } from '../said.tsx';

const MINUTE = 60_000;

/** One day of the place, midnight to midnight, with its sunrise and sunset. */
export function Hour(): ReactElement {
  const hourUtc = useSession((state) => state.conditions.hourUtc);
  const timeZone = useSession((state) => state.settings.timeZone);
  const zone = useMemo(() => zoneInUse(timeZone), [timeZone]);
  const place = useSession(useShallow(sitePlace));
  const services = useServices();
  const parsed = Date.parse(hourUtc);
  const instant = Number.isFinite(parsed) ? parsed : 0;
  const day = useMemo(() => dayAround(instant, zone), [instant, zone]);
  const noon = (day.start + day.end) / 2;
  const sun = useMemo(() => (place ? sunTimes(place[0], place[1], noon) : null), [place, noon]);
  const rise = sun?.riseUtcMilliseconds ?? null;
  const set = sun?.setUtcMilliseconds ?? null;
  const minutes = (at: number): number => (at - day.start) / MINUTE;
  const length = minutes(day.end);
  const move = (value: number, phase: 'moving' | 'set'): void =>
    services.setConditions({ hourUtc: new Date(day.start + value * MINUTE).toISOString() }, phase);
  const time = timeOfDay(instant, zone);
  const besides = sunWords(instant, rise, set);
  return (
    <div className="condition" data-condition="hour">
      <div className="condition-head">
        <h2>Hour</h2>
        <span className="narrow condition-value">
          <label className="date-choice">
            <b>{shortDate(instant, zone)}</b>
            <input
              type="date"
              aria-label="Date"
              value={dateField(instant, zone)}
              onChange={(event) => {
                const next = onDate(instant, event.target.value, zone);
                if (next !== null) {
                  services.setConditions({ hourUtc: new Date(next).toISOString() }, 'set');
                }
              }}
            />
          </label>
          <b>{time}</b> <span className="aside besides">{besides}</span>
        </span>
      </div>
      <Scale
        label="Time of day"
        look="ruled day"
        least={0}
        most={length}
        step={5}
        value={Math.round(minutes(instant) / 5) * 5}
        said={`${shortDate(instant, zone)}, ${time}, ${besides}`}
        graduations={dayMarks(day, zone, rise, set)}
        onMove={(value) => move(value, 'moving')}
        onSet={(value) => move(value, 'set')}
      >
        {rise !== null && set !== null && (
          <span
            className="daylight"
            style={
              {
                '--rise': minutes(rise) / length,
                '--set': minutes(set) / length,
              } as CSSProperties
            }
          />
        )}
      </Scale>
      <p className="reads narrow">
        <Said>
          <span className="besides-below">{besides && `${upperFirst(besides)}. `}</span>
          Its month sets how fast standing water dries.
        </Said>
      </p>
    </div>
  );
}

/** Every third hour, and the sun's two marks with their words. */
function dayMarks(
  day: { readonly start: number; readonly end: number },
  zone: string,
  rise: number | null,
  set: number | null,
): readonly Graduation[] {
  const length = (day.end - day.start) / MINUTE;
  const hours: Graduation[] = [];
  for (let at = 0; at <= length; at += 180) hours.push({ at, length: 'short' });
  const sun: Graduation[] = [
    { name: 'rise', at: rise },
    { name: 'set', at: set },
  ].flatMap(({ name, at }) =>
    at === null
      ? []
      : [
          {
            at: (at - day.start) / MINUTE,
            length: 'long' as const,
            word: (
              <>
                <span className="long">sun</span>
                {name} {timeOfDay(at, zone).replace(/ [ap]m/, '')}
              </>
            ),
          },
        ],
  );
  const plain: Graduation[] =
    sun.length > 0
      ? []
      : [
          { at: 0, length: 'long', word: 'midnight' },
          { at: length / 2, length: 'long', word: 'noon' },
          { at: length, length: 'long', word: 'midnight' },
        ];
  return [...hours, ...sun, ...plain];
}

/** "41 min before sunset", by whichever of the two is nearer. */
function sunWords(instant: number, rise: number | null, set: number | null): string {
  const near = [
    { name: 'sunrise', at: rise },
    { name: 'sunset', at: set },
  ]
    .filter((mark): mark is { name: string; at: number } => mark.at !== null)
    .sort((a, b) => Math.abs(a.at - instant) - Math.abs(b.at - instant))[0];
  if (!near) return '';
  const minutes = (instant - near.at) / MINUTE;
  if (Math.abs(minutes) < 0.5) return `at ${near.name}`;
  return `${span(minutes)} ${minutes < 0 ? 'before' : 'after'} ${near.name}`;
}
