import { useEffect, useRef, useState, type ReactElement, type RefObject } from 'react';
import type { PlanFeature } from '../../../geo/plan/feature.ts';
import { boundsOfFeatures } from '../../services/bounds.ts';
import { session } from '../../store/session.ts';
import { useSession } from '../../store/use-session.ts';
import { shapeChangesFor, type ShapeChangeName } from '../../words/shape-changes.ts';
import { ActionButton } from '../action-button.tsx';
import { Said } from '../said.tsx';
import { useServices } from '../services.ts';
import { ShapeForm } from './shape-form.tsx';

/** What can be made of the shape of one feature, each tried on the map first. */
export function ChangeShape({ feature }: { readonly feature: PlanFeature }): ReactElement {
  const services = useServices();
  const trial = useSession((state) => state.trial);
  const [chosen, setChosen] = useChosen();
  const changes = shapeChangesFor(feature);
  const change = changes.find(({ name }) => name === chosen);
  const form = useRef<HTMLDivElement>(null);
  useKeptInSight(form, trial && `${trial.problem?.what}`);

  const open = (name: ShapeChangeName): void => {
    setChosen(name);
    if (name === 'split') services.drawCut('line');
    else if (name === 'hole') services.drawCut('hole');
    else {
      // What is changed is seen beside this panel, not under it.
      const bounds = boundsOfFeatures([feature]);
      if (bounds) services.keepInSight(bounds);
    }
  };

  return (
    <details className="fold">
      <summary className="narrow">Change its shape</summary>
      {feature.locked && (
        <p className="narrow aside-line">It is locked. Unlock it to change the shape itself.</p>
      )}
      {change ? (
        <div className="shape-form" ref={form}>
          <p className="narrow aside-line">
            <Said>
              <b>{change.label}.</b> {change.how}
            </Said>
          </p>
          {change.name === 'split' || change.name === 'hole' ? (
            <div className="tools">
              <button type="button" className="button" onClick={() => open(change.name)}>
                {trial ? 'Draw it again' : 'Draw it'}
              </button>
              {!trial && (
                <button type="button" className="button plain" onClick={() => setChosen(null)}>
                  Back
                </button>
              )}
            </div>
          ) : (
            <ShapeForm key={change.name} form={change.name} feature={feature} />
          )}
        </div>
      ) : (
        <div className="tools shape-changes" role="group" aria-label="Changes of shape">
          {changes.map(({ name, label }) => (
            <button key={name} type="button" className="button" onClick={() => open(name)}>
              {label}
            </button>
          ))}
          {feature.kind === 'property-line' && !feature.locked && (
            <ActionButton name="deed-shape">From deed calls</ActionButton>
          )}
        </div>
      )}
    </details>
  );
}

/**
 * A form that opens low in its panel is brought up and takes the keys; the field in use stays clear
 * of what stands below, which grows with what is said of the trial.
 */
function useKeptInSight(form: RefObject<HTMLDivElement | null>, said: string | null): void {
  const last = useRef<HTMLDivElement | null>(null);
  useEffect(() => {
    const element = form.current;
    if (element && element !== last.current) {
      element.querySelector<HTMLElement>('input, select')?.focus({ preventScroll: true });
      element.scrollIntoView({ block: 'nearest' });
    }
    last.current = element;
  });
  useEffect(() => {
    const inUse = document.activeElement;
    if (said === null || !inUse || !form.current?.contains(inUse)) return;
    form.current.scrollIntoView({ block: 'nearest' });
    inUse.scrollIntoView({ block: 'nearest' });
  }, [form, said]);
}

/** The change that is open; it closes once what was tried is kept or left. */
function useChosen(): [ShapeChangeName | null, (name: ShapeChangeName | null) => void] {
  const [chosen, setChosen] = useState<ShapeChangeName | null>(null);
  useEffect(
    () =>
      session.subscribe((now, before) => {
        const isOver = before.trial !== null && now.trial === null;
        if (isOver && now.helper === null && before.helper === null) setChosen(null);
      }),
    [],
  );
  return [chosen, setChosen];
}
