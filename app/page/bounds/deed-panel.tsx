import { useEffect, useMemo, useRef, type ReactElement } from 'react';
import { boundsOfFeatures } from '../../services/bounds.ts';
import { session } from '../../store/session.ts';
import { useSession } from '../../store/use-session.ts';
import { closureLine } from '../../words/deed-words.ts';
import { areaQuantity, spoken, type UnitSystem } from '../../words/format.ts';
import { useServices, type Services } from '../services.ts';
import { CautionLines } from '../worksheet/caution-lines.tsx';
import './bounds.css';
import { CallsField } from './calls-field.tsx';
import { Closure } from './closure.tsx';
import { CourseList } from './course-list.tsx';
import { deedFigure, type DeedFigure } from './deed-figure.ts';
import { NorthField } from './north-field.tsx';
import { StartFields } from './start-fields.tsx';

/** The calls of a deed: written at the left, on the map while they are written, then kept. */
export function DeedPanel(): ReactElement {
  const services = useServices();
  const deed = useSession((state) => state.deed);
  const units = useSession((state) => state.settings.units);
  const name = useSession((state) =>
    deed.of === null ? '' : (state.features[deed.of]?.name ?? ''),
  );
  const { text, start, northDegrees, closes } = deed;
  const figure = useMemo(
    () => deedFigure({ text, start, northDegrees, closes }),
    [text, start, northDegrees, closes],
  );
  const { shape } = figure;
  useEffect(() => services.tryDeed(shape), [services, shape]);
  useInSight(services, shape);
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => heading.current?.focus(), []);
  const isOutline = shape?.kind === 'property-line';
  const problem = useSession((state) => state.trial?.problem);
  const canKeep = isOutline && figure.stopsAt === null && !problem;
  return (
    <section
      className="bring-in deed"
      role="dialog"
      aria-label="Property line from deed calls"
      data-covers="left"
      onKeyDown={(event) => {
        if (session.getState().helper !== null) return;
        // In a field Escape takes the writing back.
        const isWritten = event.target instanceof Element && event.target.matches('.written');
        if (event.key === 'Escape' && !isWritten) {
          event.preventDefault();
          event.stopPropagation();
          services.leaveDesk();
        } else if (event.key === 'Enter' && (event.ctrlKey || event.metaKey) && canKeep) {
          event.preventDefault();
          services.keepDeed();
        }
      }}
    >
      <div className="bring-in-head">
        <h2 ref={heading} tabIndex={-1}>
          {name ? `${name} from deed calls` : 'Property line from deed calls'}
        </h2>
        <p className="narrow aside">Metes and bounds: each call a bearing and a distance.</p>
      </div>
      <div className="bring-in-body">
        <StartFields start={start} />
        <CallsField text={text} />
        <CourseList figure={figure} />
        {figure.traverse && <Closure figure={figure} traverse={figure.traverse} closes={closes} />}
        <NorthField northDegrees={northDegrees} />
        <CautionLines names={['deed']} />
      </div>
      <div className="bring-in-foot">
        <p className="narrow aside" role="status">
          {problem ? `${problem.what} ${problem.wayOut}` : nextStep(figure, start !== null, units)}
        </p>
        <div className="tools">
          <button
            type="button"
            className="button lead"
            disabled={!canKeep}
            title="Ctrl+Enter"
            onClick={() => services.keepDeed()}
          >
            {name ? 'Take this shape' : 'Keep it'}
          </button>
          <button type="button" className="button" onClick={() => services.leaveDesk()}>
            Leave it
          </button>
        </div>
      </div>
    </section>
  );
}

/** What is missing; else what it comes to. */
function nextStep(
  { count, stopsAt, traverse, shape }: DeedFigure,
  hasStart: boolean,
  units: UnitSystem,
): string {
  if (!hasStart) return 'First say where the first call begins.';
  if (stopsAt !== null)
    return `Call ${stopsAt + 1} cannot be read yet; the map shows those before.`;
  if (!traverse || !shape) return 'Now write the calls.';
  const area = spoken(areaQuantity(shape.areaSquareMeters, units));
  return shape.kind === 'property-line'
    ? `${area}. ${closureLine(traverse, count)}`
    : 'Go on until the calls come round: an outline takes three.';
}

/** The map moves once the typing rests, and only when the figure would not be seen whole. */
function useInSight(services: Services, shape: ReturnType<typeof deedFigure>['shape']): void {
  useEffect(() => {
    if (!shape) return;
    const later = setTimeout(() => {
      const bounds = boundsOfFeatures([shape]);
      if (bounds) services.keepInSight(bounds);
    }, 500);
    return () => clearTimeout(later);
  }, [services, shape]);
}
