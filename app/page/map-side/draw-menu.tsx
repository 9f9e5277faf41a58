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

const metes = actionNamed('metes-and-bounds');

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
        toolsOf(group).flatMap(({ name, label, why }) => {
          const action = actionNamed(`draw-${name}`);
          const key = shownKey(action, letterKeys);
          const drawn = {
            words: label,
            group: title,
            title: why,
            ...(key && { key: keysHere(key) }),
            pick: () => action.perform(services, session.getState()),
          };
          if (name !== 'property-line') return [drawn];
          return [
            drawn,
            {
              words: 'From deed calls',
              group: title,
              title: 'A property line from the bearings and distances of a deed.',
              disabled: !metes.enabled(session.getState()),
              pick: () => metes.perform(services, session.getState()),
            },
          ];
        }),
      )}
    />
  );
}
