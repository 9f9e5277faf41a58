import type { Bounds } from '../raster-layers.ts';
import { worldXOf, worldYOf } from '../tiles/mercator.ts';
import type { ContourLabel, LabelChunk } from './contour-labels.ts';

/** Asks whoever owns the ground for the labels of a chunk; null when that was given up. */
export type RequestLabels = (
  chunk: LabelChunk,
  signal: AbortSignal,
) => Promise<readonly ContourLabel[] | null>;

/** Chunks kept, so that a way back finds its labels ready. */
const mostKept = 240;

/**
 * Keeps the labels of the contours in sight: asks for chunks that are missing, gives up those that
 * are out of sight, and shows what it has. Labels of another scale stay until the new ones are there.
 */
export class LabelKeeper {
  private readonly kept = new Map<string, readonly ContourLabel[]>();
  private readonly asked = new Map<string, AbortController>();
  private ground: { readonly version: string; readonly bounds: Bounds } | null = null;
  private view: { readonly zoom: number; readonly bounds: Bounds } | null = null;
  private isOn = false;

  constructor(
    private readonly request: RequestLabels,
    private readonly show: (labels: readonly ContourLabel[]) => void,
  ) {}

  /** Another ground, or the same in other units: everything is asked anew. */
  setGround(ground: { readonly version: string; readonly bounds: Bounds } | null): void {
    if (ground?.version === this.ground?.version && ground?.bounds === this.ground?.bounds) return;
    this.ground = ground;
    this.kept.clear();
    for (const asking of this.asked.values()) asking.abort();
    this.asked.clear();
    this.show([]);
    this.update();
  }

  setView(view: { readonly zoom: number; readonly bounds: Bounds }): void {
    this.view = view;
    this.update();
  }

  /** Off while no contours are drawn. */
  setOn(isOn: boolean): void {
    if (isOn === this.isOn) return;
    this.isOn = isOn;
    this.update();
  }

  stop(): void {
    this.isOn = false;
    for (const asking of this.asked.values()) asking.abort();
  }

  private wanted(): LabelChunk[] {
    if (!this.ground || !this.view || !this.isOn) return [];
    const z = Math.max(0, Math.round(this.view.zoom));
    const across = 2 ** z;
    const west = Math.max(this.view.bounds[0], this.ground.bounds[0]);
    const south = Math.max(this.view.bounds[1], this.ground.bounds[1]);
    const east = Math.min(this.view.bounds[2], this.ground.bounds[2]);
    const north = Math.min(this.view.bounds[3], this.ground.bounds[3]);
    const chunks: LabelChunk[] = [];
    if (west >= east || south >= north) return chunks;
    const last = (share: number) => Math.min(across - 1, Math.floor(share * across));
    for (let y = last(worldYOf(north)); y <= last(worldYOf(south)); y++) {
      for (let x = last(worldXOf(west)); x <= last(worldXOf(east)); x++) chunks.push({ z, x, y });
    }
    return chunks;
  }

  private update(): void {
    const wanted = new Map(this.wanted().map((chunk) => [keyOf(chunk), chunk]));
    for (const [key, asking] of this.asked) {
      if (wanted.has(key)) continue;
      asking.abort();
      this.asked.delete(key);
    }
    for (const [key, chunk] of wanted) {
      if (!this.kept.has(key) && !this.asked.has(key)) this.ask(key, chunk);
    }
    this.showWanted();
  }

  private ask(key: string, chunk: LabelChunk): void {
    const asking = new AbortController();
    this.asked.set(key, asking);
    const done = (labels: readonly ContourLabel[] | null) => {
      if (asking.signal.aborted) return;
      this.asked.delete(key);
      if (labels) this.keep(key, labels);
      this.showWanted();
    };
    this.request(chunk, asking.signal).then(done, () => done(null));
  }

  private keep(key: string, labels: readonly ContourLabel[]): void {
    this.kept.set(key, labels);
    for (const oldest of this.kept.keys()) {
      if (this.kept.size <= mostKept) break;
      this.kept.delete(oldest);
    }
  }

  private showWanted(): void {
    if (this.asked.size > 0) return;
    this.show(this.wanted().flatMap((chunk) => this.kept.get(keyOf(chunk)) ?? []));
  }
}

function keyOf({ z, x, y }: LabelChunk): string {
  return `${z}/${x}/${y}`;
}
