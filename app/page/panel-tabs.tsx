import type { ReactElement } from 'react';
import { sectionShownOf } from '../store/session.ts';
import { useSession } from '../store/use-session.ts';

/** On a phone, what the lower part of the screen holds; one at a time, or nothing. */
export type Panel = 'worksheet' | 'what' | 'section' | 'rain' | 'wind' | 'hour' | 'none';

const tabs: readonly (readonly [Exclude<Panel, 'none'>, string])[] = [
  ['worksheet', 'Worksheet'],
  ['what', 'What it is'],
  ['section', 'Section'],
  ['rain', 'Rain'],
  ['wind', 'Wind'],
  ['hour', 'Hour'],
];

/** Opens one panel over the map's lower part; pressing it again slides it away. */
export function PanelTabs({
  panel,
  onPanel,
}: {
  readonly panel: Panel;
  readonly onPanel: (panel: Panel) => void;
}): ReactElement {
  const selected = useSession((state) => state.selectedId !== null);
  const sectioned = useSession((state) => sectionShownOf(state) !== null);
  return (
    <nav className="panel-tabs narrow" aria-label="Panels" data-covers="bottom">
      {tabs
        .filter(([name]) => (name !== 'what' || selected) && (name !== 'section' || sectioned))
        .map(([name, words]) => (
          <button
            key={name}
            type="button"
            aria-expanded={panel === name}
            onClick={() => onPanel(panel === name ? 'none' : name)}
          >
            {words}
          </button>
        ))}
    </nav>
  );
}
