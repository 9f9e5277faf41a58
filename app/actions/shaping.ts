import type { Session } from '../store/session.ts';

/** True while anything is being drawn, or a shape is in hand. */
export function isShaping(state: Session): boolean {
  return isDrawing(state) || state.editingId !== null;
}

/** True while points are being set: of a feature, or of a shape that helps with one. */
export function isDrawing(state: Session): boolean {
  return state.drawing !== null || state.helper !== null;
}

/** True while points are set that belong to a line or outline, so that there is more than one. */
export function isDrawingRun(state: Session): boolean {
  if (state.helper) return state.helper.type !== 'Point';
  return state.drawing !== null && state.drawingAs !== 'Point';
}
