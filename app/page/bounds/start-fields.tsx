import { useMemo, useState, type ReactElement } from 'react';
import type { PlanFeature, Position } from '../../../geo/plan/feature.ts';
import { roundDegrees } from '../../../geo/plan/feature.ts';
import { session } from '../../store/session.ts';
import { useSession } from '../../store/use-session.ts';
import { kindWords } from '../../words/kind-words.ts';
import { parsePlace } from '../../words/parse-place.ts';
import { readGroundPlace } from '../../words/read-ground-place.ts';
import { ChoiceField, WrittenField } from '../fields.tsx';
import { useServices } from '../services.ts';
import { cornersOf } from './corners-of.ts';

/** The point of beginning: tapped on the map, a corner of what is drawn, or typed. */
export function StartFields({ start }: { readonly start: Position | null }): ReactElement {
  const services = useServices();
  const isTapping = useSession((state) => state.helper !== null);
  return (
    <section className="deed-start" aria-label="Point of beginning">
      <div className="deed-start-line">
        <p>
          <b>Point of beginning</b>{' '}
          <span className="aside narrow">where the first call starts</span>
        </p>
        <button
          type="button"
          className={start ? 'button' : 'button lead'}
          disabled={isTapping}
          onClick={(event) => {
            // The next keys are the map's: the cross, arrows and Space.
            event.currentTarget.blur();
            services.tapDeedStart();
          }}
        >
          {start ? 'Tap it anew' : 'Tap it on the map'}
        </button>
      </div>
      <WrittenField
        label="Latitude, longitude"
        shown={start ? `${start[1].toFixed(6)}, ${start[0].toFixed(6)}` : ''}
        read={(text) => {
          const place = parsePlace(text);
          if (place) return { value: place };
          return {
            wrong:
              readGroundPlace(text).is === 'projected'
                ? 'Out of range: latitude goes first, −90 to 90; then longitude, −180 to 180.'
                : 'Write latitude, then longitude, such as 36.12345, −75.01234.',
          };
        }}
        onValue={([lng, lat]) =>
          services.setDeed({ start: [roundDegrees(lng), roundDegrees(lat)] })
        }
      />
      <CornerPick />
    </section>
  );
}

function CornerPick(): ReactElement | null {
  const services = useServices();
  const features = useSession((state) => state.features);
  const [id, setId] = useState('');
  const [at, setAt] = useState('');
  const drawn = useMemo(
    () => Object.values(features).filter(({ geometry }) => geometry.type !== 'Point'),
    [features],
  );
  const feature = drawn.find((one) => one.id === id);
  const corners = useMemo(() => (feature ? cornersOf(feature.geometry) : []), [feature]);
  if (drawn.length === 0) return null;
  return (
    <details className="fold">
      <summary className="narrow">Or a corner of what is drawn</summary>
      <ChoiceField
        label="Of"
        value={feature ? id : ''}
        options={[['', 'choose one'], ...drawn.map((one) => [one.id, nameOf(one)] as const)]}
        onValue={(next) => {
          setId(next);
          setAt('');
        }}
      />
      {feature && (
        <ChoiceField
          label="Corner"
          value={at}
          options={[
            ['', 'choose one'],
            ...corners.map(({ words }, place) => [String(place), words] as const),
          ]}
          onValue={(next) => {
            setAt(next);
            const corner = next === '' ? undefined : corners[Number(next)];
            if (!corner) return;
            services.setDeed({ start: corner.at });
            if (session.getState().deed.text === '') services.showPlace(corner.at);
          }}
        />
      )}
    </details>
  );
}

function nameOf({ name, kind }: PlanFeature): string {
  return name || kindWords[kind].one;
}
