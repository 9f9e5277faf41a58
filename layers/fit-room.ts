import type { Insets } from './map-controller.ts';

/** Insets as padding, given up where they would leave nothing to fit into. */
export function roomFor(container: HTMLElement, insets: Insets): Insets {
  const margin = 24;
  const padded = {
    top: insets.top + margin,
    right: insets.right + margin,
    bottom: insets.bottom + margin,
    left: insets.left + margin,
  };
  const fits =
    container.clientWidth - padded.left - padded.right > 80 &&
    container.clientHeight - padded.top - padded.bottom > 80;
  return fits ? padded : { top: margin, right: margin, bottom: margin, left: margin };
}
