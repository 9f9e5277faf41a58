import type { ReactElement } from 'react';
import { actionNamed } from '../../actions/registry.ts';
import { session } from '../../store/session.ts';
import { useSession } from '../../store/use-session.ts';
import { useServices } from '../services.ts';
import { MenuButton } from './menu-button.tsx';

const more = ['table', 'metes-and-bounds', 'select-several', 'go-to'] as const;

const moreWords: Readonly<Record<(typeof more)[number], string>> = {
  table: 'Everything drawn, line by line: rename, set, lock, hide, find.',
  'metes-and-bounds': 'A property line from the bearings and distances of a deed.',
  'select-several': 'Tap one after the other: sums, merge, delete.',
  'go-to': 'By latitude and longitude, or easting and northing.',
};

/** What works on the whole plan, or on several things of it. */
export function MoreMenu(): ReactElement {
  const enabled = useSession((state) => more.some((name) => actionNamed(name).enabled(state)));
  const services = useServices();
  return (
    <MenuButton
      label="More"
      name="More"
      disabled={!enabled}
      items={more.map((name) => ({
        words: actionNamed(name).label,
        why: moreWords[name],
        pick: () => actionNamed(name).perform(services, session.getState()),
      }))}
    />
  );
}
