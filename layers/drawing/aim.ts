import type { FrameDefinition } from '../../geo/frame/crs-types.ts';
import type { SnapCandidate } from '../../geo/plan/construct/snap.ts';
import type { PlanFeature, Position } from '../../geo/plan/feature.ts';
import type * as precise from './precise.ts';

/** Loaded when it is first needed. */
type Precise = typeof precise;

/** Where the pointer is, drawn to the foot: what it caught on, and the run that leads there. */
export interface Aimed {
  readonly at: Position;
  readonly caught: Pick<SnapCandidate, 'catches' | 'featureId'> | null;
  /** From the point before, true; null where there is none, or it is the same place. */
  readonly leg: { readonly lengthMeters: number; readonly bearingDegrees: number } | null;
}

export interface AimFacts {
  features(): readonly PlanFeature[];
  frame(): FrameDefinition | null;
  metersPerPixel(): number;
}

/** How near the pointer must come to be caught: a mouse points finer than a finger. */
const reachPixels = { mouse: 11, touch: 20 } as const;

/** Catches the pointer on what is drawn, and measures the run to it. */
export class Aim {
  /** Off for the whole drawing. */
  on = true;
  /** Let go for a moment: Shift is held. */
  private held = false;
  private touch = false;
  /** A place that was typed is exact: nothing catches it. */
  private exact = false;
  private precise: Precise | null = null;
  private readonly stopListening: () => void;

  constructor(
    private readonly facts: AimFacts,
    private readonly events: { onAim(aimed: Aimed | null): void },
    target: HTMLElement,
  ) {
    const listen = (event: PointerEvent): void => {
      this.held = event.shiftKey;
      this.touch = event.pointerType === 'touch';
    };
    const names = ['pointermove', 'pointerdown'] as const;
    // Before the drawing tool hears of it.
    for (const name of names) target.addEventListener(name, listen, { capture: true });
    this.stopListening = () => {
      for (const name of names) target.removeEventListener(name, listen, { capture: true });
    };
  }

  /** Begins to load what is needed; drawing goes on without it until it is there. */
  async ready(): Promise<Precise> {
    this.precise ??= await import('./precise.ts');
    return this.precise;
  }

  /**
   * Where a pointer counts as being: on what it is caught by, or where it is. `from` is the point
   * before, `except` the feature in hand. Says the aim to whoever shows it.
   */
  at(pointer: Position, from: Position | undefined, except?: string): Position {
    const caught = this.caughtBy(pointer, from, except);
    const at = caught?.at ?? pointer;
    const leg = from && this.precise ? this.precise.legBetween(from, at) : null;
    this.events.onAim({ at, caught, leg: leg && leg.lengthMeters > 0.01 ? leg : null });
    return at;
  }

  none(): void {
    this.events.onAim(null);
  }

  /** Does something with places that are meant to the digit. */
  exactly<T>(act: () => T): T {
    this.exact = true;
    try {
      return act();
    } finally {
      this.exact = false;
    }
  }

  stop(): void {
    this.stopListening();
  }

  private caughtBy(
    pointer: Position,
    from: Position | undefined,
    except: string | undefined,
  ): SnapCandidate | null {
    if (!this.on || this.held || this.exact || !this.precise) return null;
    const tolerance = this.facts.metersPerPixel() * reachPixels[this.touch ? 'touch' : 'mouse'];
    return this.precise.catchAt(this.facts.features(), pointer, tolerance, this.facts.frame(), {
      ...(from ? { from } : {}),
      ...(except === undefined ? {} : { except }),
    });
  }
}
