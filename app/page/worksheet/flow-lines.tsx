import type { ReactElement } from 'react';
import { useSession } from '../../store/use-session.ts';
import { outletText, peakText, runText, tooSmallText } from '../../words/way-out-words.ts';
import { Said } from '../said.tsx';

/** The water that the storm under the map brings through a notch, and whether it stands it. */
export function FlowLines({ id }: { readonly id: string }): ReactElement | null {
  const run = useSession((state) => state.site.notchFlows?.value.runs.find((one) => one.id === id));
  const units = useSession((state) => state.settings.units);
  if (!run) return null;
  if (run.peak.cubicMetersPerSecond === 0) {
    return <p className="narrow">Nothing runs through it in this rain.</p>;
  }
  return (
    <p className="narrow">
      <Said>
        {peakText(run, units)} <b>{runText(run, units)}</b> {tooSmallText(run, units)}{' '}
        {outletText(run, units)}
      </Said>
    </p>
  );
}
