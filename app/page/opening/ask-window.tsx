import {
  useEffect,
  useRef,
  useState,
  type KeyboardEvent,
  type PointerEvent,
  type ReactElement,
} from 'react';
import { useSession } from '../../store/use-session.ts';
import { figure, lengthQuantity, spoken } from '../../words/format.ts';
import type { Overview, PixelWindow } from '../../workers/messages.ts';
import { useServices } from '../services.ts';
import { firstWindow, movedWindow, resizedWindow } from './window-choice.ts';

type Change = (window: PixelWindow, columns: number, rows: number) => PixelWindow;

/** A part of a raster too large to open whole, set on its picture by dragging or by arrow keys. */
export function AskWindow({
  overview,
  maxCells,
}: {
  readonly overview: Overview;
  readonly maxCells: number;
}): ReactElement {
  const services = useServices();
  const units = useSession((state) => state.settings.units);
  const [window, setWindow] = useState(() => firstWindow(overview, maxCells));
  const cells = window.width * window.height;
  const tooLarge = cells > maxCells;
  const move: Change = (from, columns, rows) => movedWindow(from, columns, rows, overview);
  const resize: Change = (from, columns, rows) => resizedWindow(from, columns, rows, overview);
  const side = (pixels: number): string =>
    spoken(lengthQuantity(pixels * overview.cellMeters, units));
  const words = `${side(window.width)} by ${side(window.height)}, ${figure(cells / 1e6, 1)} million cells`;
  const percent = (pixels: number, of: number): string => `${(pixels / of) * 100}%`;
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        if (!tooLarge) services.answerQuestion({ window });
      }}
    >
      <div
        className="overview"
        style={{ aspectRatio: `${overview.fullWidth} / ${overview.fullHeight}` }}
      >
        <Picture overview={overview} />
        <div
          className="window"
          style={{
            left: percent(window.column, overview.fullWidth),
            top: percent(window.row, overview.fullHeight),
            width: percent(window.width, overview.fullWidth),
            height: percent(window.height, overview.fullHeight),
          }}
        >
          <Grip
            name="body"
            label={`Move the part: ${words}`}
            window={window}
            overview={overview}
            change={move}
            onWindow={setWindow}
          />
          <Grip
            name="corner"
            label={`Size the part: ${words}`}
            window={window}
            overview={overview}
            change={resize}
            onWindow={setWindow}
          />
        </div>
      </div>
      <p aria-live="polite">
        <b>{words}</b>{' '}
        <span className="aside">
          of {side(overview.fullWidth)} by {side(overview.fullHeight)}. Drag the frame to move it
          and its corner to size it, or use the arrow keys.
        </span>
      </p>
      {tooLarge && (
        <p className="wrong" role="alert">
          Make it smaller: {figure(maxCells / 1e6, 0)} million cells is the most that opens at once.
        </p>
      )}
      <div className="tools">
        <button type="submit" className="button lead" disabled={tooLarge}>
          Open this part
        </button>
        <button type="button" className="button" onClick={() => services.leaveOpening()}>
          Do not open it
        </button>
      </div>
    </form>
  );
}

function Picture({ overview }: { readonly overview: Overview }): ReactElement {
  const canvas = useRef<HTMLCanvasElement>(null);
  useEffect(() => {
    const context = canvas.current?.getContext('2d');
    if (!context) return;
    const image = context.createImageData(overview.width, overview.height);
    image.data.set(overview.pixels);
    context.putImageData(image, 0, 0);
  }, [overview]);
  return (
    <canvas
      ref={canvas}
      width={overview.width}
      height={overview.height}
      role="img"
      aria-label="The whole raster, shaded"
    />
  );
}

const arrows: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

/** A handle of the frame: drags by pointer, goes by a hundredth of the raster with arrow keys. */
function Grip({
  name,
  label,
  window,
  overview,
  change,
  onWindow,
}: {
  readonly name: 'body' | 'corner';
  readonly label: string;
  readonly window: PixelWindow;
  readonly overview: Overview;
  readonly change: Change;
  readonly onWindow: (window: PixelWindow) => void;
}): ReactElement {
  const start = useRef<{ x: number; y: number; window: PixelWindow; perPixel: number } | null>(
    null,
  );
  const onKey = (event: KeyboardEvent): void => {
    const arrow = arrows[event.key];
    if (!arrow) return;
    event.preventDefault();
    const step =
      (Math.max(overview.fullWidth, overview.fullHeight) / 100) * (event.shiftKey ? 5 : 1);
    onWindow(change(window, arrow[0] * step, arrow[1] * step));
  };
  const onDown = (event: PointerEvent<HTMLButtonElement>): void => {
    event.currentTarget.setPointerCapture(event.pointerId);
    const frame = event.currentTarget.closest('.overview')!.getBoundingClientRect();
    start.current = {
      x: event.clientX,
      y: event.clientY,
      window,
      perPixel: overview.fullWidth / frame.width,
    };
  };
  const onMove = (event: PointerEvent): void => {
    const from = start.current;
    if (!from) return;
    onWindow(
      change(
        from.window,
        (event.clientX - from.x) * from.perPixel,
        (event.clientY - from.y) * from.perPixel,
      ),
    );
  };
  const onUp = (): void => {
    start.current = null;
  };
  return (
    <button
      type="button"
      className={`grip ${name}`}
      aria-label={label}
      onKeyDown={onKey}
      onPointerDown={onDown}
      onPointerMove={onMove}
      onPointerUp={onUp}
      onPointerCancel={onUp}
    />
  );
}
