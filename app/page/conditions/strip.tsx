import type { ReactElement } from 'react';
import { Hour } from './hour.tsx';
import { Rain } from './rain.tsx';
import { Wind } from './wind.tsx';

/** The world over the plan: rain, wind and the hour. On a phone one of them shows at a time. */
export function ConditionsStrip(): ReactElement {
  return (
    <section className="strip" aria-label="Conditions" data-covers="bottom">
      <Rain />
      <Wind />
      <Hour />
    </section>
  );
}
