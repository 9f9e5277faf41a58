import { useState, type ReactElement } from 'react';
import {
  photoInOrder,
  reliefInOrder,
  wholeOrder,
  type ImageryLayer,
} from '../../../geo/plan/imagery.ts';
import { useSession } from '../../store/use-session.ts';
import { WrittenField } from '../fields.tsx';
import { useServices } from '../services.ts';

/** Every layer under the linework, top first: moved up and down, imagery also faded and taken out. */
export function LayerList(): ReactElement {
  const layers = useSession((state) => state.imageryDraft ?? state.settings.imagery);
  const set = useSession((state) => state.settings.layerOrder);
  const hasPhoto = useSession((state) => state.settings.photoId !== '');
  const hasGround = useSession((state) => state.settings.groundId !== '');
  const order = wholeOrder(set, layers).reverse();
  const names: Readonly<Record<string, string>> = {
    [photoInOrder]: hasPhoto ? 'Photo' : 'Photo (none opened)',
    [reliefInOrder]: hasGround ? 'Relief' : 'Relief (no ground opened)',
    ...Object.fromEntries(layers.map((layer) => [layer.id, layer.name])),
  };
  return (
    <ol className="layer-list">
      {order.map((id, i) => {
        const layer = layers.find((other) => other.id === id);
        const name = names[id] ?? id;
        return (
          <li key={id} data-layer={id}>
            <div className="layer-line">
              {layer ? <Shown layer={layer} /> : <b>{name}</b>}
              <Move id={id} name={name} by={1} disabled={i === 0} />
              <Move id={id} name={name} by={-1} disabled={i === order.length - 1} />
            </div>
            {layer && <ImageryLine layer={layer} />}
          </li>
        );
      })}
    </ol>
  );
}

function Shown({ layer }: { readonly layer: ImageryLayer }): ReactElement {
  const services = useServices();
  return (
    <label className="layer-shown">
      <input
        type="checkbox"
        checked={layer.shown}
        onChange={(event) => services.setImagery(layer.id, { shown: event.target.checked }, 'set')}
      />
      <b>{layer.name}</b>
    </label>
  );
}

function Move({
  id,
  name,
  by,
  disabled,
}: {
  readonly id: string;
  readonly name: string;
  readonly by: 1 | -1;
  readonly disabled: boolean;
}): ReactElement {
  const services = useServices();
  return (
    <button
      type="button"
      className="button plain"
      disabled={disabled}
      aria-label={`Move ${name} ${by === 1 ? 'up' : 'down'}`}
      onClick={() => services.moveLayer(id, by)}
    >
      <svg viewBox="0 0 14 10" width="14" height="10" aria-hidden="true">
        <path
          d={by === 1 ? 'M1 9 L7 2 L13 9' : 'M1 1 L7 8 L13 1'}
          fill="none"
          stroke="currentColor"
          strokeWidth="2.2"
        />
      </svg>
    </button>
  );
}

function ImageryLine({ layer }: { readonly layer: ImageryLayer }): ReactElement {
  const services = useServices();
  const problem = useSession((state) => state.imageryProblems[layer.id]);
  const [open, setOpen] = useState(false);
  const percent = Math.round(layer.opacity * 100);
  const settle = (value: string): void =>
    services.setImagery(layer.id, { opacity: Number(value) / 100 }, 'set');
  return (
    <div className="narrow imagery-line">
      <label className="layer-opacity">
        <span>Opacity</span>
        <input
          type="range"
          min={0}
          max={100}
          step={5}
          value={percent}
          aria-label={`Opacity of ${layer.name}`}
          aria-valuetext={`${percent} %`}
          onChange={(event) =>
            services.setImagery(layer.id, { opacity: Number(event.target.value) / 100 }, 'moving')
          }
          onPointerUp={(event) => settle(event.currentTarget.value)}
          onKeyUp={(event) => settle(event.currentTarget.value)}
          onBlur={(event) => settle(event.currentTarget.value)}
        />
        <span className="aside">{percent} %</span>
      </label>
      {problem && layer.shown && (
        <div className="finding" role="alert">
          <p>
            <b>{problem.what}</b> {problem.wayOut}
          </p>
          <button type="button" className="button" onClick={() => services.retryImagery(layer.id)}>
            Try again
          </button>
        </div>
      )}
      <details className="fold" open={open} onToggle={(event) => setOpen(event.currentTarget.open)}>
        <summary>Name, credit, address</summary>
        <WrittenField
          label="Name"
          shown={layer.name}
          read={(text) =>
            text.trim() === '' || text.trim().length > 200
              ? { wrong: 'Give it a name of at most 200 letters.' }
              : { value: text.trim() }
          }
          onValue={(name) => services.setImagery(layer.id, { name }, 'set')}
        />
        <WrittenField
          label="Credit"
          shown={layer.attribution}
          read={(text) =>
            text.length > 500 ? { wrong: 'Keep it to 500 letters.' } : { value: text.trim() }
          }
          onValue={(attribution) => services.setImagery(layer.id, { attribution }, 'set')}
        />
        <p className="layer-address aside">{layer.template}</p>
        <button type="button" className="button" onClick={() => services.removeImagery(layer.id)}>
          Take it out
        </button>
      </details>
    </div>
  );
}
