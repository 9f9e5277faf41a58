import type { ReactElement } from 'react';
import type { PlanFeature } from '../../../geo/plan/feature.ts';
import { ActionButton } from '../action-button.tsx';
import { Said } from '../said.tsx';

/** A second one of it; whether it can be changed; whether it is drawn. */
export function FeatureTools({ feature }: { readonly feature: PlanFeature }): ReactElement {
  const { locked, hidden } = feature;
  return (
    <>
      {(locked || hidden) && (
        <p className="narrow aside-line">
          <Said>
            {[
              locked && 'Locked: its shape stays.',
              hidden && 'Hidden: the plan is drawn without it.',
            ]
              .filter(Boolean)
              .join(' ')}
          </Said>
        </p>
      )}
      <div className="tools feature-tools">
        <ActionButton name="duplicate" />
        <ActionButton name="lock">{locked ? 'Unlock' : 'Lock'}</ActionButton>
        <ActionButton name="hide">{hidden ? 'Show' : 'Hide'}</ActionButton>
      </div>
    </>
  );
}
