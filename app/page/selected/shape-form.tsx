import { useEffect, useMemo, useState, type ReactElement } from 'react';
import type { PlanFeature } from '../../../geo/plan/feature.ts';
import { useSession } from '../../store/use-session.ts';
import { areaKinds } from '../../words/draw-tools.ts';
import { kindWords } from '../../words/kind-words.ts';
import {
  firstNumbers,
  readBearing,
  readDistance,
  readTurn,
  shapeWish,
  type FormName,
  type ShapeNumbers,
} from '../../words/shape-wish.ts';
import { ChoiceField } from '../fields.tsx';
import { LiveField } from '../live-field.tsx';
import { useServices } from '../services.ts';

/** The numbers of a change of shape; what they make is on the map while they are typed. */
export function ShapeForm({
  form,
  feature,
}: {
  readonly form: FormName;
  readonly feature: PlanFeature;
}): ReactElement {
  const units = useSession((state) => state.settings.units);
  const services = useServices();
  const first = useMemo(() => firstNumbers(form, units), [form, units]);
  const [numbers, setNumbers] = useState<ShapeNumbers>(first);
  const set = (change: Partial<ShapeNumbers>): void => setNumbers({ ...numbers, ...change });
  useEffect(
    () => services.tryShape(shapeWish(form, feature, numbers)),
    [services, form, feature, numbers],
  );
  const distance = (label: string): ReactElement => (
    <LiveField
      label={label}
      start={first.text}
      read={(text) => readDistance(text, units)}
      onValue={(distanceMeters) => set({ distanceMeters })}
    />
  );
  switch (form) {
    case 'grow':
      return (
        <>
          <ChoiceField
            label="Its edge moves"
            value={numbers.way}
            options={[
              ['out', 'out'],
              ['in', 'in'],
            ]}
            onValue={(way) => set({ way: way === 'in' ? 'in' : 'out' })}
          />
          {distance('By')}
        </>
      );
    case 'strip':
      return (
        <>
          {distance('Within')}
          <ChoiceField
            label="It becomes"
            value={numbers.kind}
            options={areaKinds.map((kind) => [kind, kindWords[kind].one.toLowerCase()] as const)}
            onValue={(next) => set({ kind: areaKinds.find((kind) => kind === next) ?? 'no-go' })}
          />
        </>
      );
    case 'beside':
      return (
        <>
          <ChoiceField
            label="Side, walking along it"
            value={numbers.side}
            options={[
              ['right', 'right'],
              ['left', 'left'],
            ]}
            onValue={(side) => set({ side: side === 'left' ? 'left' : 'right' })}
          />
          {distance('At')}
        </>
      );
    case 'simplify':
      return distance('Straying under');
    case 'move':
      return (
        <>
          {distance('By')}
          <LiveField
            label="Toward (true)"
            start="N"
            read={readBearing}
            onValue={(bearingDegrees) => set({ bearingDegrees })}
          />
        </>
      );
    case 'turn':
      return (
        <LiveField
          label="Degrees to the right"
          start="15"
          inputMode="text"
          read={readTurn}
          onValue={(clockwiseDegrees) => set({ clockwiseDegrees })}
        />
      );
  }
}
