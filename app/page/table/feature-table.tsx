import {
  useCallback,
  useLayoutEffect,
  useMemo,
  useRef,
  useState,
  useSyncExternalStore,
  type KeyboardEvent,
  type ReactElement,
} from 'react';
import type { PlanFeature } from '../../../geo/plan/feature.ts';
import { rowsBetween, rowTops, type RowHeight, type TableRow as Row } from './table-model.ts';
import { TableRow } from './table-row.tsx';

/** A line of fields on a desk; a card of lines on a phone. Pixels, as in `table.css`. */
const lineHeight: RowHeight = { base: 62, perProperty: 0 };
const cardHeight: RowHeight = { base: 152, perProperty: 46 };
const cards = '(max-width: 900px)';
const rowsAround = 3;

/**
 * The rows in sight, and a few around, of however many there are. The row that is worked in stays
 * whole while it is out of sight, so that nothing half written is lost.
 */
export function FeatureTable({
  rows,
  onShow,
}: {
  readonly rows: readonly Row[];
  readonly onShow: (feature: PlanFeature) => void;
}): ReactElement {
  const scroller = useRef<HTMLDivElement>(null);
  const [span, setSpan] = useState<readonly [top: number, height: number]>([0, 600]);
  const [workedIn, setWorkedIn] = useState<string | null>(null);
  const isCards = useMedia(cards);
  const tops = useMemo(() => rowTops(rows, isCards ? cardHeight : lineHeight), [rows, isCards]);
  const measure = useCallback((): void => {
    const { scrollTop = 0, clientHeight = 0 } = scroller.current ?? {};
    setSpan((last) =>
      last[0] === scrollTop && last[1] === clientHeight ? last : [scrollTop, clientHeight],
    );
  }, []);
  useLayoutEffect(() => {
    measure();
    const sizes = new ResizeObserver(measure);
    if (scroller.current) sizes.observe(scroller.current);
    return () => sizes.disconnect();
  }, [measure, rows, isCards]);

  const [from, to] = rowsBetween(tops, span[0], span[0] + span[1], rowsAround);
  const drawn = rows.slice(from, to).map((row, i) => [row, from + i] as const);
  const workedAt = rows.findIndex(({ feature }) => feature.id === workedIn);
  if (workedAt >= 0 && (workedAt < from || workedAt >= to)) drawn.push([rows[workedAt]!, workedAt]);

  return (
    <div className="table-scroller" ref={scroller} onScroll={measure} data-cards={isCards}>
      <div
        role="rowgroup"
        className="table-rows"
        style={{ height: tops[rows.length] }}
        onFocus={({ target }) => setWorkedIn(rowOf(target, rows)?.feature.id ?? null)}
        onBlur={({ relatedTarget }) => {
          if (!relatedTarget) setWorkedIn(null);
        }}
        onKeyDown={(event) => walk(event, tops, scroller.current)}
      >
        {drawn.map(([{ feature, size }, index]) => (
          <TableRow
            key={feature.id}
            feature={feature}
            size={size}
            index={index}
            top={tops[index]!}
            height={tops[index + 1]! - tops[index]!}
            onShow={onShow}
          />
        ))}
      </div>
    </div>
  );
}

function rowOf(target: Element, rows: readonly Row[]): Row | undefined {
  const index = target.closest<HTMLElement>('[data-row]')?.dataset['row'];
  return index === undefined ? undefined : rows[Number(index)];
}

/** Up and down go to the same place of the next row; the rows there are drawn by the scrolling. */
function walk(event: KeyboardEvent, tops: Float64Array, scroller: HTMLElement | null): void {
  const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
  const { target } = event;
  if (step === undefined || !scroller || !(target instanceof HTMLElement)) return;
  if (target instanceof HTMLSelectElement || event.altKey || event.nativeEvent.isComposing) return;
  const at = Number(target.closest<HTMLElement>('[data-row]')?.dataset['row']);
  const column = target.closest<HTMLElement>('[data-column]')?.dataset['column'];
  const next = at + step;
  if (!(next >= 0 && next < tops.length - 1) || column === undefined) return;
  event.preventDefault();
  bringUp(scroller, tops[next]!, tops[next + 1]!);
  requestAnimationFrame(() => {
    const row = scroller.querySelector(`[data-row="${next}"]`);
    const same = row?.querySelector<HTMLElement>(`[data-column="${column}"] :is(input, button)`);
    (same ?? row?.querySelector<HTMLElement>('[data-column="name"] input'))?.focus();
  });
}

function bringUp(scroller: HTMLElement, top: number, bottom: number): void {
  if (top < scroller.scrollTop) scroller.scrollTop = top;
  const over = bottom - (scroller.scrollTop + scroller.clientHeight);
  if (over > 0) scroller.scrollTop += over;
}

function useMedia(query: string): boolean {
  return useSyncExternalStore(
    useCallback(
      (changed) => {
        const media = matchMedia(query);
        media.addEventListener('change', changed);
        return () => media.removeEventListener('change', changed);
      },
      [query],
    ),
    () => matchMedia(query).matches,
  );
}
