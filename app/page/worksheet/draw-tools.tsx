import type { ReactElement } from 'react';
import { toolsOf, type ToolGroup } from '../../words/draw-tools.ts';
import { ActionButton } from '../action-button.tsx';

/** What can be drawn for a section: a button for each kind and shape. */
export function DrawTools({
  group,
  title = 'Draw',
}: {
  readonly group: ToolGroup;
  readonly title?: string;
}): ReactElement {
  return (
    <section className="draw-tools" aria-label={title}>
      <h3 className="narrow">{title}</h3>
      <div className="tools">
        {toolsOf(group).map(({ name, label, why }) => (
          <ActionButton key={name} name={`draw-${name}`} hint={why}>
            {label}
          </ActionButton>
        ))}
      </div>
    </section>
  );
}
