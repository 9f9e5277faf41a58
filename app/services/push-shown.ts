import type { PushShapes } from '../../layers/plan/push-layers.ts';
import type { Session } from '../store/session.ts';
import { lengthQuantity, spoken } from '../words/format.ts';

/** What the pushes and the fire's distances on the map are drawn from. */
export const pushParts: readonly ((state: Session) => unknown)[] = [
  ({ openSection }) => openSection === 'debris' || openSection === 'clearing',
  ({ selectedId }) => selectedId,
  ({ site }) => site.clearingWork,
  ({ selectedId, answers }) => answers[selectedId ?? '']?.burning,
  ({ settings }) => settings.units,
];

/** Pushes while Clearing or Debris is open; distances of what burns and is selected. */
export function pushShapes({
  openSection,
  selectedId,
  site,
  answers,
  settings,
}: Session): PushShapes {
  const isOpen = openSection === 'debris' || openSection === 'clearing';
  const arrows = (isOpen && site.clearingWork?.value?.push?.arrows) || [];
  const most = Math.max(...arrows.map(({ cubicMeters }) => cubicMeters));
  const burning = answers[selectedId ?? '']?.burning?.value;
  return {
    pushes: arrows.map(({ from, to, cubicMeters }) => ({ from, to, share: cubicMeters / most })),
    distances: (burning?.distances ?? []).map(({ line, meters, rules }) => ({
      line,
      label: spoken(lengthQuantity(meters, settings.units)),
      isShort: rules.some(({ source, shortMeters }) => source === 'usual' && shortMeters > 0),
    })),
  };
}
