import type { Map as MapLibreMap, MapMouseEvent } from 'maplibre-gl';
import type { FrameDefinition } from '../../geo/frame/crs-types.ts';
import type { PlanFeature, PlanGeometry, Position } from '../../geo/plan/feature.ts';
import { kinds, type GeometryType, type Kind } from '../../geo/plan/kinds.ts';
import type { FrameQueue } from '../frame-queue.ts';
import type { Insets } from '../fit-room.ts';
import type { Aimed } from './aim.ts';
import { Cross } from './cross.ts';
import { CursorWords } from './cursor-words.ts';
import { Drawing } from './drawing.ts';

/** What the page can do with the shape in hand. */
export interface DrawingControls {
  startDrawing(kind: Kind, type?: GeometryType): void;
  /** Draws a shape of no kind, for something else than itself. */
  startShape(type: GeometryType): void;
  startEditing(feature: PlanFeature): void;
  stopDrawing(): void;
  finishDrawing(): boolean;
  cancelDrawing(): void;
  dropLastPoint(): boolean;
  deleteChosenCorner(): boolean;
  addCorner(): boolean;
  /** Chooses the next or the last corner, and brings it into sight. */
  stepCorner(by: 1 | -1): void;
  /** Constructions are made in this frame; null takes the UTM zone. */
  setFrame(frame: FrameDefinition | null): void;
  /** Whether the pointer catches on what is drawn. */
  setSnapping(on: boolean): void;
  /** Shows a cross to draw by, in the clear part of the map. */
  setCross(on: boolean): void;
  /** Sets a point under the cross. */
  placeAtCross(): boolean;
  /** Sets a point a run from the last one; without a bearing, the way last aimed. */
  placeLeg(lengthMeters: number, bearingDegrees: number | null): Promise<boolean>;
}

export interface DrawingControlEvents {
  onDraft(geometry: PlanGeometry | null): void;
  onCommit(geometry: PlanGeometry): void;
  onCancelDrawing(): void;
  /** How many points of a drawing are placed. */
  onPlaced?(count: number): void;
  /** Where the pointer is aimed, at most once a frame; null when nothing is. */
  onAim?(aimed: Aimed | null): void;
}

interface Surroundings {
  readonly map: MapLibreMap;
  readonly container: HTMLElement;
  readonly frames: FrameQueue;
  readonly insets: () => Insets;
  readonly features: () => readonly PlanFeature[];
  readonly metersPerPixel: () => number;
  /** Runs at once when the style stands, else then. */
  readonly whenReady: (act: () => void) => void;
  /** Words to stand beside the pointer. */
  readonly aimWords: (aimed: Aimed) => readonly string[];
}

/** The drawing tool with its cross and its words at the pointer; made with the map, filled when the style stands. */
export class DrawingDesk implements DrawingControls {
  private drawing: Drawing | null = null;
  private frame: FrameDefinition | null = null;
  private snaps = true;
  private wantsCross = false;
  private readonly cross: Cross;
  private readonly words: CursorWords;

  constructor(
    private readonly around: Surroundings,
    private readonly events: DrawingControlEvents,
  ) {
    this.cross = new Cross(around.container);
    this.words = new CursorWords(around.container);
  }

  /** Begins; once, when the style stands. */
  begin(): void {
    const { map, features, metersPerPixel } = this.around;
    this.drawing = new Drawing(
      map,
      {
        onDraft: this.events.onDraft,
        onCommit: this.events.onCommit,
        onCancel: this.events.onCancelDrawing,
        onPlaced: (count) => this.events.onPlaced?.(count),
        onAim: (aimed) => this.aimed(aimed),
        onPan: (dx, dy) => this.pan(dx, dy),
      },
      { features, frame: () => this.frame, metersPerPixel },
    );
    this.drawing.aim.on = this.snaps;
    map.on('mousemove', ({ lngLat }) => this.drawing?.pointed(lngLat));
    map.on('move', () => this.underCross());
  }

  /** A tap that was about the shape in hand, or cannot be about anything yet. */
  tapped(event: MapMouseEvent): boolean {
    return this.drawing?.tapped(event) ?? true;
  }

  startDrawing = (kind: Kind, type: GeometryType = kinds[kind].geometry[0]): void =>
    this.startShape(type);

  startShape = (type: GeometryType): void =>
    this.take(() => {
      this.drawing!.startDrawing(type);
      this.showCross();
    });

  startEditing = (feature: PlanFeature): void =>
    this.take(() => this.drawing!.startEditing(feature));

  stopDrawing = (): void =>
    this.around.whenReady(() => {
      this.drawing!.stop();
      this.showCross();
    });

  finishDrawing = (): boolean => this.drawing?.finish() ?? false;
  cancelDrawing = (): void => this.drawing?.cancel();
  dropLastPoint = (): boolean => this.drawing?.dropLastPoint() ?? false;
  deleteChosenCorner = (): boolean => this.drawing?.deleteChosenCorner() ?? false;
  addCorner = (): boolean => this.drawing?.addCorner() ?? false;

  stepCorner = (by: 1 | -1): void => {
    const at = this.drawing?.stepCorner(by);
    if (at) this.bringIn(at);
  };

  setFrame = (frame: FrameDefinition | null): void => {
    this.frame = frame;
  };

  setSnapping = (on: boolean): void => {
    this.snaps = on;
    if (this.drawing) this.drawing.aim.on = on;
  };

  setCross = (on: boolean): void => {
    this.wantsCross = on;
    this.showCross();
    // Arrows and Space are for the cross now, not for the button that called it.
    if (this.cross.isShown) this.around.map.getCanvas().focus({ preventScroll: true });
  };

  placeAtCross = (): boolean => {
    if (!this.cross.isShown || !this.drawing) return false;
    return this.drawing.placeAt(this.cross.at);
  };

  placeLeg = async (lengthMeters: number, bearingDegrees: number | null): Promise<boolean> => {
    const at = (await this.drawing?.placeLeg(lengthMeters, bearingDegrees)) ?? null;
    if (at) this.bringIn(at);
    return at !== null;
  };

  /** What the page may call; each function knows its desk. */
  get controls(): DrawingControls {
    return this;
  }

  /** The parts that lie over the map are others now. */
  insetsChanged(): void {
    this.showCross();
  }

  stop(): void {
    this.drawing?.remove();
    this.cross.hide();
    this.words.show([], this.cross.at);
  }

  private take(begin: () => void): void {
    this.around.whenReady(() => {
      begin();
      // Keys of the drawing belong to the map, not to the button that began it.
      this.around.map.getCanvas().focus({ preventScroll: true });
    });
  }

  private aimed(aimed: Aimed | null): void {
    this.drawing?.aimed(aimed);
    this.around.frames.add('aim', () => {
      this.events.onAim?.(aimed);
      if (!aimed) this.words.show([], this.cross.at);
      else this.words.show(this.around.aimWords(aimed), this.around.map.project(aimed.at));
      if (!this.drawing?.isBusy) this.cross.hide();
    });
  }

  private pan(dx: number, dy: number): void {
    this.around.map.panBy([dx, dy], { animate: false });
  }

  private underCross(): void {
    if (this.cross.isShown && this.drawing?.isBusy) this.drawing.aimAtPixel(this.cross.at);
  }

  private showCross(): void {
    const { container, insets } = this.around;
    if (!this.wantsCross || !this.drawing?.isDrawing) {
      this.cross.hide();
      return;
    }
    const { clientWidth: width, clientHeight: height } = container;
    // It stays where it is while it can: a bar that grows with the numbers moves no point.
    const stays = this.cross.isShown && isClear(this.cross.at, insets(), width, height);
    this.cross.show(stays ? this.cross.at : clearMiddle(insets(), width, height));
    this.underCross();
  }

  /** Moves the map where a place lies outside its clear part. */
  private bringIn([lng, lat]: Position): void {
    const { map, container, insets } = this.around;
    const { clientWidth: width, clientHeight: height } = container;
    if (isClear(map.project([lng, lat]), insets(), width, height)) return;
    const middle = clearMiddle(insets(), width, height);
    const offset: [number, number] = [middle.x - width / 2, middle.y - height / 2];
    map.easeTo({ center: [lng, lat], offset, duration: 200 });
  }
}

/** Whether a cross at a pixel of the map, or a corner there, is clear of all that lies over it. */
function isClear(
  { x, y }: { readonly x: number; readonly y: number },
  { top, right, bottom, left, corner }: Insets,
  width: number,
  height: number,
): boolean {
  const arm = 24;
  const isUnderCorner = corner && x < corner.right + arm && y < corner.bottom + arm;
  const isAcross = x >= left + arm && x <= width - right - arm;
  return isAcross && y >= top + arm && y <= height - bottom - arm && !isUnderCorner;
}

/** The middle of what is clear of the map; beside or below what lies over its corner, where more is. */
export function clearMiddle(
  { top, right, bottom, left, corner }: Insets,
  width: number,
  height: number,
): { x: number; y: number } {
  const middle = (fromX: number, fromY: number) => ({
    x: Math.round((fromX + width - right) / 2),
    y: Math.round((fromY + height - bottom) / 2),
  });
  if (!corner) return middle(left, top);
  const beside = Math.max(0, width - right - corner.right) * Math.max(0, height - bottom - top);
  const below = Math.max(0, width - right - left) * Math.max(0, height - bottom - corner.bottom);
  return beside > below ? middle(corner.right, top) : middle(left, corner.bottom);
}
