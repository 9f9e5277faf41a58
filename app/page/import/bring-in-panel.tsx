import { useEffect, useRef, type ReactElement } from 'react';
import { takenCount, type BringIn } from '../../store/bring-in.ts';
import { useSession } from '../../store/use-session.ts';
import { countWords, formatWords } from '../../words/bring-in-words.ts';
import { figure } from '../../words/format.ts';
import { CheckField } from '../fields.tsx';
import { useServices } from '../services.ts';
import { GroupList } from './group-list.tsx';

/** What a drawing holds, before any of it is in the plan: taken or left, and as what. */
export function BringInPanel(): ReactElement | null {
  const bringing = useSession((state) => state.bringing);
  return bringing ? <Panel key={bringing.name} bringing={bringing} /> : null;
}

function Panel({ bringing }: { readonly bringing: BringIn }): ReactElement {
  const services = useServices();
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => heading.current?.focus(), []);
  const { look, name } = bringing;
  const count = takenCount(bringing);
  const formats = look.formats.map((format) => formatWords[format]).join(', ');
  return (
    <section
      className="bring-in"
      role="dialog"
      aria-label={`Bring in ${name}`}
      data-covers="left"
      onKeyDown={(event) => {
        // In a field Escape takes the writing back.
        const isWritten = event.target instanceof Element && event.target.matches('.written');
        if (event.key !== 'Escape' || isWritten) return;
        event.preventDefault();
        event.stopPropagation();
        services.leaveBringIn();
      }}
    >
      <div className="bring-in-head">
        <h2 ref={heading} tabIndex={-1}>
          Bring in {name}
        </h2>
        <p className="narrow aside">
          {formats} · {look.crsName} · {countWords(look.items)}
        </p>
      </div>
      <div className="bring-in-body">
        <Where bringing={bringing} />
        <Personal bringing={bringing} />
        <Notes of={look.notes} />
        {look.groups.map((group, place) => (
          <GroupList key={`${group.file}/${group.layer}`} bringing={bringing} place={place} />
        ))}
      </div>
      <div className="bring-in-foot">
        <p className="narrow aside" role="status">
          {count === 0
            ? 'Nothing is taken yet: tick it here, or tap it on the map.'
            : `${figure(count, 0)} of ${figure(look.items.length, 0)} taken; one undo takes all of it back.`}
        </p>
        <div className="tools">
          <button
            type="button"
            className="button lead"
            disabled={count === 0}
            onClick={() => services.bringIn()}
          >
            Bring in {figure(count, 0)}
          </button>
          <button type="button" className="button" onClick={() => services.leaveBringIn()}>
            Leave it
          </button>
        </div>
      </div>
    </section>
  );
}

/** Said where the drawing lies away from what is open. */
function Where({ bringing }: { readonly bringing: BringIn }): ReactElement | null {
  const { where } = bringing;
  if (where === 'here') return null;
  return (
    <p className="finding caution">
      {where === 'elsewhere-than-demo' ? (
        <>
          <b>It gets a project of its own.</b> It lies elsewhere than the demo.
        </>
      ) : (
        <>
          <b>Look where it lies.</b> It does not meet the site that is open.
        </>
      )}
    </p>
  );
}

/** Columns that tell who owns the land: named, and left out unless they are asked for. */
function Personal({ bringing: { look, keepPersonal } }: { readonly bringing: BringIn }) {
  const services = useServices();
  const columns = [...new Set(look.personalColumns.map(({ column }) => column))];
  if (columns.length === 0) return null;
  return (
    <div className="bring-in-personal">
      <p className="narrow">
        <b>{keepPersonal ? 'Kept about people:' : 'Left out about people:'}</b> {columns.join(', ')}
      </p>
      <CheckField
        label="Keep them, for names and notes"
        value={keepPersonal}
        onValue={(keep) => services.keepPersonal(keep)}
      />
    </div>
  );
}

const FEW_NOTES = 2;

function Notes({ of }: { readonly of: readonly string[] }): ReactElement | null {
  if (of.length === 0) return null;
  const list = (
    <ul className="bring-in-notes narrow">
      {of.map((note) => (
        <li key={note}>{note}</li>
      ))}
    </ul>
  );
  if (of.length <= FEW_NOTES) return list;
  return (
    <details className="fold">
      <summary className="narrow">{of.length} notes on what was read</summary>
      {list}
    </details>
  );
}
