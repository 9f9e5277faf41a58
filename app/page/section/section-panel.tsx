import {
  useEffect,
  useEffectEvent,
  useMemo,
  useRef,
  useState,
  type KeyboardEvent,
  type ReactElement,
} from 'react';
import type { SectionLine } from '../../../geo/answers/answers.ts';
import type { SectionWater } from '../../../geo/answers/section-water.ts';
import { feetFromMeters } from '../../../geo/frame/units.ts';
import type { PlanFeature, Position } from '../../../geo/plan/feature.ts';
import { session, sectionShownOf } from '../../store/session.ts';
import { isOutOfDate } from '../../store/left-undone.ts';
import { useSession } from '../../store/use-session.ts';
import {
  elevationQuantity,
  fallQuantity,
  figure,
  lengthQuantity,
  rainQuantity,
  slopeQuantity,
  spoken,
  station,
} from '../../words/format.ts';
import { kindWords } from '../../words/kind-words.ts';
import { useServices } from '../services.ts';
import { errorOf } from '../worksheet/section-states.ts';
import { heightAt, placeAtStation, stationNear } from './along-line.ts';
import { loadChart } from './load-chart.ts';
import { pondLines, pondsOf } from './ponds-of.ts';
import type { SectionChart, SectionDrawing } from './section-chart.ts';
import { slopeWords } from './slope-words.ts';
import { SectionTable } from './section-table.tsx';
import { straightRuns } from './straight-runs.ts';
import './section.css';

type Surface = NonNullable<SectionLine['surface']>;

/** The ground along the selected line, over the map's lower edge; pointer linked with the map. */
export function SectionPanel(): ReactElement | null {
  const id = useSession(sectionShownOf);
  const feature = useSession((state) =>
    id === null ? undefined : state.draft?.id === id ? state.draft : state.features[id],
  );
  const answer = useSession((state) => (id === null ? undefined : state.answers[id]?.sectionLine));
  const water = useSession((state) =>
    id === null ? undefined : state.answers[id]?.sectionWater?.value,
  );
  if (!feature || feature.geometry.type !== 'LineString' || !answer?.value.surface) return null;
  return (
    <Panel
      key={feature.id}
      feature={feature}
      line={feature.geometry.coordinates}
      length={answer.value.lengthMeters}
      surface={answer.value.surface}
      water={water}
    />
  );
}

function Panel({
  feature,
  line,
  length,
  surface,
  water,
}: {
  readonly feature: PlanFeature;
  readonly line: readonly Position[];
  readonly length: number;
  readonly surface: Surface;
  /** Undefined until the storm is worked out. */
  readonly water: SectionWater | undefined;
}): ReactElement {
  const services = useServices();
  const units = useSession((state) => state.settings.units);
  const error = useSession(errorOf);
  const [times, setTimes] = useState<number | null>(null);
  const [failed, setFailed] = useState(false);
  const [at, setAt] = useState<number | null>(null);
  const host = useRef<HTMLDivElement>(null);
  const chart = useRef<SectionChart | null>(null);
  const isFromMap = useRef(false);
  const name = feature.name || kindWords[feature.kind].one;
  const { stationsMeters, elevationsMeters, cornerStationsMeters } = surface;
  const rain = useSession((state) => state.conditions.rain.depthMeters);
  const ground = useMemo(() => groundOf(surface, units), [surface, units]);
  const ponds = useMemo(() => pondsOf(water, error, units), [water, error, units]);
  const drawing = useMemo(() => ({ ...ground, ponds }), [ground, ponds]);
  const perUnit = units === 'us' ? feetFromMeters(1) : 1;

  const point = (stationMeters: number | null): void => {
    setAt(stationMeters);
    services.pointAtSection(
      stationMeters === null ? null : placeAtStation(line, cornerStationsMeters, stationMeters),
    );
  };
  const onPoint = useEffectEvent((value: number | null) => {
    isFromMap.current = false;
    point(value === null ? null : value / perUnit);
  });
  const onMapPointer = useEffectEvent((place: Position | null, metersPerPixel: number) => {
    const near = place && stationNear(line, cornerStationsMeters, place);
    const isNear = near !== null && near.awayMeters < 16 * metersPerPixel;
    if (isNear) point(near.stationMeters);
    // Leaving the map for the chart must not take away what the chart has said meanwhile.
    else if (isFromMap.current) point(null);
    isFromMap.current = isNear;
  });
  const showFirst = useEffectEvent(() => chart.current?.show(drawing));

  useEffect(() => {
    let gone = false;
    loadChart().then(
      (createSectionChart) => {
        if (gone || !host.current) return;
        chart.current = createSectionChart(host.current, { onPoint, onScale: setTimes });
        showFirst();
      },
      () => setFailed(true),
    );
    return () => {
      gone = true;
      chart.current?.remove();
      chart.current = null;
      services.pointAtSection(null);
    };
  }, [services]);

  useEffect(() => chart.current?.show(drawing), [drawing]);
  useEffect(() => chart.current?.point(at === null ? null : at * perUnit), [at, perUnit]);

  // Once the map knows that this panel lies over it.
  const uncover = useEffectEvent(() => services.keepInSight(boundsOf(line)));
  useEffect(() => {
    const soon = setTimeout(uncover, 120);
    return () => clearTimeout(soon);
  }, []);

  // The map's pointer, when it comes near the line.
  useEffect(
    () =>
      session.subscribe(({ pointer, scale }, before) => {
        if (pointer === before.pointer) return;
        onMapPointer(pointer && [pointer.lng, pointer.lat], scale?.metersPerPixel ?? 1);
      }),
    [],
  );

  const onKey = (event: KeyboardEvent): void => {
    const now = at ?? 0;
    const next = {
      ArrowRight: now + length / 100,
      ArrowLeft: now - length / 100,
      PageUp: now + length / 10,
      PageDown: now - length / 10,
      Home: 0,
      End: length,
    }[event.key];
    if (next === undefined) return;
    event.preventDefault();
    event.stopPropagation();
    point(Math.max(0, Math.min(length, next)));
  };

  const here = at === null ? null : heightAt(stationsMeters, elevationsMeters, at);
  const run = at === null ? null : surface.stretches.find((s) => s.toStationMeters >= at);
  const year = surface.surveyedOn?.slice(0, 4) ?? '';
  const hereWords =
    at === null
      ? ''
      : [
          station(at, units),
          here === null ? 'no height' : spoken(elevationQuantity(here, error, units)),
          run && run.fromStationMeters <= at ? slopeWords(run.slope) : '',
        ]
          .filter(Boolean)
          .join(' · ');
  const isWaterLeft = useSession((state) => isOutOfDate(state, { features: ['sectionWater'], id: feature.id })); // prettier-ignore
  return (
    <section className="section-panel" aria-label={`Section: ${name}`} data-covers="bottom">
      <header>
        <h2>{name}</h2>
        <p className="narrow">
          {spoken(lengthQuantity(length, units))}
          <span className="aside"> · climbs </span>
          {spoken(fallQuantity(surface.climbMeters, error, units))}
          <span className="aside">, falls </span>
          {spoken(fallQuantity(surface.fallMeters, error, units))}
          {surface.steepest && (
            <span className="section-steepest">
              <span className="aside"> · steepest </span>
              {slopeWords(surface.steepest.slope)}
              <span className="aside">
                {' '}
                from {station(surface.steepest.fromStationMeters, units)}
              </span>
            </span>
          )}
        </p>
        {isWaterLeft && <p className="narrow left-word">The water is as it was before.</p>}
        <p className="narrow section-here" data-testid="section-here">
          {hereWords}
        </p>
        <button
          type="button"
          className="button plain close"
          aria-label="Put the section away"
          onClick={() => services.toggleSection(feature.id)}
        >
          <svg viewBox="0 0 16 16" width="16" height="16" aria-hidden="true">
            <path d="M2 2 L14 14 M14 2 L2 14" stroke="currentColor" strokeWidth="2" />
          </svg>
        </button>
      </header>
      {failed ? (
        <p className="narrow">The chart could not be loaded; its numbers are in the table.</p>
      ) : (
        <div
          className="section-chart"
          ref={host}
          role="slider"
          tabIndex={0}
          aria-label="Place along the section"
          aria-valuemin={0}
          aria-valuemax={Math.round(length * perUnit)}
          aria-valuenow={Math.round((at ?? 0) * perUnit)}
          aria-valuetext={hereWords || `${station(0, units)}, arrow keys move along the line`}
          onKeyDown={onKey}
          onPointerLeave={() => point(null)}
        />
      )}
      <div className="section-foot narrow">
        <SectionTable surface={surface} open={failed} />
        {water && water.runs.length > 0 && (
          <p className="out-of-sight">{pondLines(water, error, units).join(' ')}</p>
        )}
        <p className="aside section-about">
          <span className="word">existing ground: </span>
          {surface.name}
          {year !== '' && !surface.name.includes(year) && `, ${year}`}
          {ponds.length > 0 && ` · water of ${spoken(rainQuantity(rain, units))} rain`}
          {times !== null && ` · heights drawn ${timesWords(times)}`}
        </p>
      </div>
    </section>
  );
}

function boundsOf(line: readonly Position[]): [number, number, number, number] {
  const lngs = line.map((position) => position[0]);
  const lats = line.map((position) => position[1]);
  return [Math.min(...lngs), Math.min(...lats), Math.max(...lngs), Math.max(...lats)];
}

function timesWords(times: number): string {
  if (times === 1) return 'to scale';
  return times > 1 ? `${figure(times, 0)} times taller than true` : 'flatter than true';
}

/** At most so many slopes are written over the line, of runs long enough to hold them. */
const mostLabels = 14;

function groundOf(surface: Surface, units: 'us' | 'metric'): Omit<SectionDrawing, 'ponds'> {
  const toUnit = units === 'us' ? feetFromMeters : (meters: number) => meters;
  const { stationsMeters, elevationsMeters, stretchToleranceMeters } = surface;
  const { runs } = straightRuns(
    stationsMeters,
    elevationsMeters,
    stretchToleranceMeters,
    mostLabels,
  );
  return {
    stations: stationsMeters.map(toUnit),
    heights: elevationsMeters.map((height) => (height === null ? null : toUnit(height))),
    corners: surface.cornerStationsMeters.map(toUnit),
    slopes: runs.map((run) => ({
      from: toUnit(run.fromStationMeters),
      to: toUnit(run.toStationMeters),
      text: spoken(slopeQuantity(Math.abs(run.slope))),
    })),
    unit: units === 'us' ? 'ft' : 'm',
    stationText: (value) => station(units === 'us' ? value / feetFromMeters(1) : value, units),
    heightText: (value) =>
      `${figure(value, Number.isInteger(value) ? 0 : 1)} ${units === 'us' ? 'ft' : 'm'}`,
  };
}
