import type { ReactElement } from 'react';
import { shownKey } from '../../actions/keys.ts';
import { actionNamed } from '../../actions/registry.ts';
import { isShaping } from '../../actions/shaping.ts';
import { session } from '../../store/session.ts';
import { useSession } from '../../store/use-session.ts';
import { toolGroups, toolsOf } from '../../words/draw-tools.ts';
import { keysHere } from '../keys-here.ts';
import { useServices } from '../services.ts';
import { MenuButton } from './menu-button.tsx';

/** Everything that can be drawn, by the sections of the worksheet. */
export function DrawMenu(): ReactElement {
  const shaping = useSession(isShaping);
  const letterKeys = useSession((state) => state.letterKeys);
  const services = useServices();
  return (
    <MenuButton
      label="Draw"
      name="Draw"
      disabled={shaping}
      className="draw-menu"
      items={toolGroups.flatMap(([group, title]) =>
        toolsOf(group).map(({ name, label, why }) => {
          const action = actionNamed(`draw-${name}`);
          const key = shownKey(action, letterKeys);
          return {
            words: label,
            group: title,
            title: why,
            ...(key && { key: keysHere(key) }),
            pick: () => action.perform(services, session.getState()),
          };
        }),
      )}
    />
  );
}
