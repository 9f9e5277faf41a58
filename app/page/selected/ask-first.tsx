import type { ReactElement } from 'react';
import { isKind, type PlanFeature } from '../../../geo/plan/feature.ts';
import { kinds } from '../../../geo/plan/kinds.ts';
import { useSession } from '../../store/use-session.ts';
import { choiceWords } from '../../words/property-words.ts';
import { useServices } from '../services.ts';

/** What a feature cannot do without, asked as soon as it is drawn: why a ground is kept out of. */
export function AskFirst({ feature }: { readonly feature: PlanFeature }): ReactElement | null {
  const isAsked = useSession((state) => state.askedId === feature.id);
  const services = useServices();
  if (!isAsked || !isKind(feature, 'no-go')) return null;
  const reasons = kinds['no-go'].properties.entries.reason.options;
  return (
    <fieldset className="ask-first">
      <legend>
        <b>Why keep out of it?</b>{' '}
        <span className="narrow aside">It stands on the plan and on every sheet.</span>
      </legend>
      {reasons.map((reason, at) => (
        <button
          key={reason}
          type="button"
          className="button"
          // The question comes up because of what was just drawn: the answer is the next thing to do.
          autoFocus={at === 0}
          onClick={() => services.setProperty(feature.id, 'reason', reason)}
        >
          {choiceWords(reason)}
        </button>
      ))}
    </fieldset>
  );
}
