import { useState, type ReactElement } from 'react';
import { useShallow } from 'zustand/react/shallow';
import { actionNamed, photoSeen, viewNames } from '../../actions/registry.ts';
import type { MapView } from '../../store/session.ts';
import { useSession } from '../../store/use-session.ts';
import { ActionButton } from '../action-button.tsx';
import { LayersButton } from '../imagery/layers-button.tsx';
import { useServices } from '../services.ts';
import { DrawMenu } from './draw-menu.tsx';
import { MenuButton } from './menu-button.tsx';
import { MoreMenu } from './more-menu.tsx';

/** What lies under the linework, what to draw, and back to the whole site. */
export function MapTools(): ReactElement {
  return (
    <div className="map-tools" role="toolbar" aria-label="Map" data-covers="top">
      <BaseSwitch />
      <BaseMenu />
      <LayersButton />
      <DrawMenu />
      <ActionButton name="fit" look="lifted">
        Fit to site
      </ActionButton>
      <ActionButton name="palette" look="lifted" />
      <MoreMenu />
      <PhotoBlend />
    </div>
  );
}

const bases = Object.keys(viewNames) as MapView['base'][];

function BaseSwitch(): ReactElement {
  const base = useSession((state) => state.view.base);
  return (
    <div className="joined base-switch" role="group" aria-label="Under the drawing">
      {bases.map((name) => (
        <ActionButton key={name} name={`view-${name}`} pressed={base === name} />
      ))}
    </div>
  );
}

/** The same switch for narrow screens. */
function BaseMenu(): ReactElement {
  const base = useSession((state) => state.view.base);
  const enabled = useSession(
    useShallow((state) => bases.filter((name) => actionNamed(`view-${name}`).enabled(state))),
  );
  const services = useServices();
  return (
    <MenuButton
      label={viewNames[base]}
      name="Under the drawing"
      className="base-menu"
      items={bases.map((name) => ({
        words: viewNames[name],
        checked: base === name,
        disabled: !enabled.includes(name),
        pick: () => services.setView({ base: name }),
      }))}
    />
  );
}

function PhotoBlend(): ReactElement | null {
  const view = useSession((state) => state.view);
  const hasPhoto = useSession(photoSeen);
  const services = useServices();
  const [held, setHeld] = useState<number | null>(null);
  if (view.base !== 'plan' || !hasPhoto) return null;
  const share = held ?? Math.round(view.photoShare * 100);
  return (
    <label className="blend narrow lifted">
      <span>Relief</span>
      <input
        type="range"
        min={0}
        max={100}
        step={5}
        value={share}
        aria-label="Photo over relief"
        aria-valuetext={`${share} % photo`}
        onChange={(event) => {
          const next = Number(event.target.value);
          setHeld(next);
          services.setView({ photoShare: next / 100 });
        }}
        onPointerUp={() => setHeld(null)}
        onBlur={() => setHeld(null)}
      />
      <span>Photo</span>
    </label>
  );
}
