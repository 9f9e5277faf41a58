import type { ReactElement } from 'react';
import { useShallow } from 'zustand/react/shallow';
import type { PlanFeature } from '../../../geo/plan/feature.ts';
import { useSession } from '../../store/use-session.ts';
import { areaQuantity, lengthQuantity } from '../../words/format.ts';
import { countsLine, sumOf } from '../../words/selection-words.ts';
import { ActionButton } from '../action-button.tsx';
import { Figure } from '../quantity.tsx';
import { Row, Rows } from '../row.tsx';
import { Said } from '../said.tsx';
import { useServices } from '../services.ts';
import { TrialFooter } from './trial-footer.tsx';

/** Several selected at once: what they are, what they come to, and what can be done to all. */
export function Several({ features }: { readonly features: readonly PlanFeature[] }): ReactElement {
  const services = useServices();
  const trial = useSession((state) => state.trial);
  const units = useSession((state) => state.settings.units);
  const sum = useSession(useShallow((state) => sumOf(features, state.answers)));
  const locked = features.filter((feature) => feature.locked).length;
  return (
    <section className="what" aria-label={`${features.length} selected`} data-covers="right">
      <header>
        <h2 className="several-title">{features.length} selected</h2>
        <button
          type="button"
          className="button plain close"
          aria-label="Put them down"
          onClick={() => services.select(null)}
        >
          <svg viewBox="0 0 16 16" width="16" height="16" aria-hidden="true">
            <path d="M2 2 L14 14 M14 2 L2 14" stroke="currentColor" strokeWidth="2" />
          </svg>
        </button>
        <p className="narrow aside">
          <Said>{countsLine(features)}</Said>
        </p>
      </header>
      <div className="what-body" tabIndex={0} role="group" aria-label="What they come to">
        <Rows>
          {sum.areas > 0 && (
            <Row label="Areas together">
              <Figure of={areaQuantity(sum.areaSquareMeters, units)} />
            </Row>
          )}
          {sum.lines > 0 && (
            <Row label="Lines together">
              <Figure of={lengthQuantity(sum.lengthMeters, units)} />
            </Row>
          )}
        </Rows>
        {sum.areas > 1 && (
          <p className="narrow aside-line">Ground that lies in two of them counts twice.</p>
        )}
        {sum.unmeasured > 0 && (
          <p className="narrow aside-line">
            <Said>{sum.unmeasured} not counted: no clear size.</Said>
          </p>
        )}
        {locked > 0 && (
          <p className="narrow aside-line">
            <Said>
              {locked} locked: {locked === 1 ? 'it stays' : 'they stay'} when all are deleted.
            </Said>
          </p>
        )}
      </div>
      {trial ? (
        <TrialFooter trial={trial} />
      ) : (
        <footer className="tools">
          <ActionButton name="merge" />
          <ActionButton name="lock">{locked === features.length ? 'Unlock' : 'Lock'}</ActionButton>
          <ActionButton name="hide">
            {features.every((feature) => feature.hidden) ? 'Show' : 'Hide'}
          </ActionButton>
          <ActionButton name="delete">Delete all</ActionButton>
        </footer>
      )}
    </section>
  );
}
