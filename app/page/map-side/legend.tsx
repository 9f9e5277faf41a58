import { useId, useState, type ReactElement } from 'react';
import { elevationLegend, slopeLegend, waterLegend } from '../../../layers/legends.ts';
import { shownDams } from '../../store/shown-dams.ts';
import { useSession } from '../../store/use-session.ts';
import { depthQuantity, elevationQuantity, spoken, type UnitSystem } from '../../words/format.ts';
import { SlopeSwatch } from '../slope-hatch.tsx';
import { errorOf } from '../worksheet/section-states.ts';

const shownTitles = { slope: 'Slope', elevation: 'Elevation' } as const;

function waterTitle(units: UnitSystem): string {
  return `Standing water, ${units === 'metric' ? 'centimeters' : 'inches'} deep`;
}

/** What the map's colours and hatches mean now; folds away to one word. */
export function Legend(): ReactElement | null {
  const base = useSession((state) => state.view.base);
  const site = useSession((state) => state.site.ground?.value);
  const hasSpots = useSession((state) => (state.site.lowSpots?.value.lowSpots.length ?? 0) > 0);
  const hasFlow = useSession(
    (state) => state.openSection === 'water' && (state.site.flowLines?.value.lines.length ?? 0) > 0,
  );
  const hasDams = useSession((state) =>
    shownDams(state).some(({ damming }) => damming!.value.ponds.length > 0),
  );
  // What is selected needs the height, and a phone has no room for it unasked.
  const isCrowded = useSession((state) => state.selectedId !== null);
  const [startsOpen] = useState(() => !matchMedia('(max-width: 720px)').matches);
  const [asked, setAsked] = useState<{ readonly crowded: boolean; readonly open: boolean }>();
  const open = asked?.crowded === isCrowded ? asked.open : startsOpen && !isCrowded;
  const units = useSession((state) => state.settings.units);
  const id = useId();
  const shows = base === 'slope' ? 'slope' : base === 'elevation' && site ? 'elevation' : null;
  if (!shows && !hasSpots && !hasDams) return null;
  return (
    <section className="legend narrow" aria-label="Legend" data-open={open}>
      <button
        type="button"
        className="legend-line"
        aria-expanded={open}
        aria-controls={id}
        onClick={() => setAsked({ crowded: isCrowded, open: !open })}
      >
        {open ? (shows ? shownTitles[shows] : waterTitle(units)) : 'Legend'}
        <svg viewBox="0 0 10 6" width="10" height="6" aria-hidden="true">
          <path
            d={open ? 'M1 5 L5 1 L9 5' : 'M1 1 L5 5 L9 1'}
            fill="none"
            stroke="currentColor"
            strokeWidth="1.8"
          />
        </svg>
      </button>
      <div id={id} hidden={!open}>
        {shows === 'slope' && <SlopeLegend />}
        {shows === 'elevation' && site && (
          <ElevationLegend lowest={site.lowestMeters} highest={site.highestMeters} />
        )}
        {hasSpots && <WaterLegend titled={shows !== null} />}
        {hasSpots && <p className="aside">Closer hatch: stands over 24 h, 48 h.</p>}
        {hasDams && (
          <p className="aside">
            Broken shore: dammed by what is drawn, brim full. Broken line: water turned aside.
          </p>
        )}
        {hasFlow && <p className="aside">Lines: where water runs; wider where more drains.</p>}
      </div>
    </section>
  );
}

function SlopeLegend(): ReactElement {
  const id = useId();
  return (
    <>
      <ul className="two-columns">
        {slopeLegend.map(({ words }, index) => (
          <li key={words}>
            <SlopeSwatch id={`${id}${index}`} index={index} />
            <span>{words}</span>
          </li>
        ))}
      </ul>
    </>
  );
}

function ElevationLegend({
  lowest,
  highest,
}: {
  readonly lowest: number;
  readonly highest: number;
}): ReactElement {
  const units = useSession((state) => state.settings.units);
  const error = useSession(errorOf);
  const stops = elevationLegend(lowest, highest);
  const said = (meters: number): string => spoken(elevationQuantity(meters, error, units));
  return (
    <>
      <div
        className="ramp"
        style={{ background: `linear-gradient(to right, ${stops.map((s) => s.color).join(', ')})` }}
      />
      <p className="ends">
        <span>{said(lowest)}</span>
        <span>{said(highest)}</span>
      </p>
    </>
  );
}

function WaterLegend({ titled }: { readonly titled: boolean }): ReactElement {
  const units = useSession((state) => state.settings.units);
  return (
    <>
      {titled && <h2>{waterTitle(units)}</h2>}
      <ul className="steps">
        {waterLegend.map((step) => (
          <li key={step.color}>
            <span className="step" style={{ background: step.color }} />
            <span>{stepWords(step.toMeters, step.fromMeters, units)}</span>
          </li>
        ))}
      </ul>
    </>
  );
}

/** "to 4", "to 8" … "over 24": whole units, since these are steps and not figures. */
function stepWords(toMeters: number | null, fromMeters: number, units: UnitSystem): string {
  const quantity = depthQuantity(toMeters ?? fromMeters, null, units);
  return toMeters === null ? `over ${quantity.text}` : `to ${quantity.text}`;
}
