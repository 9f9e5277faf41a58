import type { Services } from '../page/services.ts';
import { session } from '../store/session.ts';

type HandsServices = Pick<Services, 'openPalette' | 'leavePalette' | 'setLetterKeys'>;

const letterKeysName = 'assart letter keys';

/** How the page is worked by hand: the list of actions, and whether letters alone do things. */
export function handsServices(storage: () => Storage = () => localStorage): HandsServices {
  session.setState({ letterKeys: read(storage) !== 'off' });
  return {
    openPalette: () => session.setState({ desk: 'palette' }),
    leavePalette: () => {
      if (session.getState().desk === 'palette') session.setState({ desk: null });
    },
    setLetterKeys(on) {
      session.setState({ letterKeys: on });
      try {
        storage().setItem(letterKeysName, on ? 'on' : 'off');
      } catch {
        // Nothing can be kept here: the choice holds until the page is closed.
      }
    },
  };
}

function read(storage: () => Storage): string | null {
  try {
    return storage().getItem(letterKeysName);
  } catch {
    // Where site data is not allowed, asking already throws.
    return null;
  }
}
