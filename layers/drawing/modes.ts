import {
  TerraDraw,
  TerraDrawLineStringMode,
  TerraDrawModeUndoRedo,
  TerraDrawPointMode,
  TerraDrawPolygonMode,
  TerraDrawSelectMode,
  type GeoJSONStoreFeatures,
  type SnapToCustom,
} from 'terra-draw';
import { TerraDrawMapLibreGLAdapter } from 'terra-draw-maplibre-gl-adapter';
import type { Map as MapLibreMap } from 'maplibre-gl';
import type { PlanGeometry } from '../../geo/plan/feature.ts';
import { flag, paper } from '../palette.ts';

/** Name of the drawing tool's mode for a geometry. */
export const modeOf = { Point: 'point', LineString: 'linestring', Polygon: 'polygon' } as const;

export type DrawnType = PlanGeometry['type'];

/** Half of a 44-pixel target. */
export const grabPixels = 22;

/** How near to its first or last corner a tap ends a drawing: with a mouse a shed can be drawn. */
const endPixels = (): number => (matchMedia('(pointer: coarse)').matches ? grabPixels : 11);

export interface DrawingTool {
  readonly tool: TerraDraw;
  /** Draws the handles anew, after another corner was chosen. */
  restyle(): void;
  /** A press at a place, as if the pointer had been there. */
  press(type: DrawnType, at: PressPlace): void;
}

export interface PressPlace {
  readonly lng: number;
  readonly lat: number;
  /** On the map, CSS pixels: near the first or last corner it ends the drawing. */
  readonly x: number;
  readonly y: number;
}

/**
 * Set up once a map; `chosen` tells which corner of the edited shape is chosen, -1 for none, and
 * `snap` where a place of the pointer is caught, undefined for nowhere.
 */
export function createDrawingTool(
  map: MapLibreMap,
  chosen: () => number,
  snap: SnapToCustom,
): DrawingTool {
  const accent = flag as `#${string}`;
  const light = paper as `#${string}`;
  const isChosen = (feature: GeoJSONStoreFeatures): boolean =>
    feature.properties.index === chosen();
  const outline = {
    fillColor: accent,
    fillOpacity: 0.06,
    outlineColor: accent,
    outlineWidth: 2.2,
    closingPointColor: light,
    closingPointWidth: 7,
    closingPointOutlineColor: accent,
    closingPointOutlineWidth: 2.5,
    coordinatePointColor: light,
    coordinatePointWidth: 5,
    coordinatePointOutlineColor: accent,
    coordinatePointOutlineWidth: 2,
  };
  // Our own linework draws what is edited; the tool shows its handles only.
  const handles = {
    selectedPolygonFillOpacity: 0,
    selectedPolygonOutlineWidth: 0,
    selectedPolygonOutlineOpacity: 0,
    selectedLineStringOpacity: 0,
    selectedPointColor: accent,
    selectedPointOpacity: 0.001,
    selectedPointWidth: grabPixels,
    selectedPointOutlineWidth: 0,
    selectionPointColor: (f: GeoJSONStoreFeatures) => (isChosen(f) ? accent : light),
    selectionPointWidth: (f: GeoJSONStoreFeatures) => (isChosen(f) ? 8.5 : 7),
    selectionPointOutlineColor: accent,
    selectionPointOutlineWidth: 2.5,
    midPointColor: accent,
    midPointWidth: 4,
    midPointOpacity: 0.9,
    midPointOutlineColor: light,
    midPointOutlineWidth: 2,
  };
  const snapping = { toCustom: snap };
  const caught = {
    snappingPointColor: light,
    snappingPointWidth: 6,
    snappingPointOutlineColor: accent,
    snappingPointOutlineWidth: 2.5,
  };
  const shape = {
    feature: {
      draggable: false,
      coordinates: {
        draggable: true,
        midpoints: { draggable: true },
        deletable: false,
        snappable: snapping,
      },
    },
  };
  const modes = {
    Point: new TerraDrawPointMode({ styles: { pointColor: accent, pointWidth: 6 } }),
    LineString: new TerraDrawLineStringMode({
      pointerDistance: endPixels(),
      keyEvents: null,
      showCoordinatePoints: true,
      snapping,
      styles: {
        ...outlineOfLine(outline),
        ...caught,
        lineStringColor: accent,
        lineStringWidth: 2.2,
      },
    }),
    Polygon: new TerraDrawPolygonMode({
      pointerDistance: endPixels(),
      keyEvents: null,
      showCoordinatePoints: true,
      snapping,
      styles: { ...outline, ...caught },
    }),
  };
  let made = 0;
  const tool = new TerraDraw({
    // One shape lives here at a time, with handles: a counter is name enough.
    idStrategy: { isValidId: (id) => typeof id === 'string', getId: () => `tool-${made++}` },
    adapter: new TerraDrawMapLibreGLAdapter({
      map,
      coordinatePrecision: 9,
      ignoreMismatchedPointerEvents: true,
      // A finger that taps wanders by a few pixels.
      minPixelDragDistanceDrawing: 8,
      minPixelDragDistanceSelecting: 4,
    }),
    // Keys are handled by `drawing.ts` for the whole page, not only while the canvas has the focus.
    modes: [
      ...Object.values(modes),
      new TerraDrawSelectMode({
        pointerDistance: grabPixels,
        keyEvents: null,
        dragEventThrottle: 0,
        allowManualSelection: false,
        allowManualDeselection: false,
        flags: { polygon: shape, linestring: shape, point: { feature: { draggable: true } } },
        styles: handles,
      }),
    ],
    undoRedo: { modeLevel: new TerraDrawModeUndoRedo() },
  });
  return {
    tool,
    restyle: () =>
      tool.updateModeOptions<typeof TerraDrawSelectMode>('select', { styles: { ...handles } }),
    press(type, { lng, lat, x, y }) {
      const pressed = () => ({
        lng,
        lat,
        containerX: x,
        containerY: y,
        button: 'left' as const,
        heldKeys: [],
        isContextMenu: false,
      });
      // A point takes no notice of moves; the others follow the pointer before they are pressed.
      if (type !== 'Point') modes[type].onMouseMove(pressed());
      modes[type].onClick(pressed());
    },
  };
}

function outlineOfLine<T extends Record<string, unknown>>(all: T) {
  const { fillColor, fillOpacity, outlineColor, outlineWidth, ...points } = all;
  void [fillColor, fillOpacity, outlineColor, outlineWidth];
  return points;
}
