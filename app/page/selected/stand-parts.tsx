import type { ReactElement } from 'react';
import type { PlanFeature } from '../../../geo/plan/feature.ts';
import type { AnswersNamed } from '../../store/left-undone.ts';
import { LeftUndone } from '../left/left-undone.tsx';
import { StandLanesPart } from './stand-lanes.tsx';
import { StandSeasonPart } from './stand-season.tsx';
import { StandShotsPart } from './stand-shots.tsx';
import { StandSightPart } from './stand-sight.tsx';
import { StandWind } from './stand-wind.tsx';

/** What a stand reads from the site's own answers. */
export const standWindAnswers: AnswersNamed = { site: ['standWinds', 'standSeasons'] };

/** All that is worked out of a stand besides its ground. */
export function StandParts({ feature }: { readonly feature: PlanFeature<'stand'> }): ReactElement {
  return (
    <>
      <LeftUndone of={standWindAnswers}>
        <StandWind feature={feature} />
        <StandSeasonPart feature={feature} />
      </LeftUndone>
      <StandLanesPart feature={feature} />
      <LeftUndone of={{ features: ['standShots', 'seenByHeight'], id: feature.id }}>
        <StandShotsPart feature={feature} />
        <StandSightPart feature={feature} />
      </LeftUndone>
    </>
  );
}
