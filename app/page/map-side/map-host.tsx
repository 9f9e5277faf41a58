import { useEffect, useRef, type ReactElement } from 'react';
import { useServices, type MapInsets } from '../services.ts';

/**
 * The element that the map is put into. What lies over the map is marked `data-covers`; its size is
 * handed on, so that fitting and the scale bar keep clear of it.
 */
export function MapHost(): ReactElement {
  const services = useServices();
  const host = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const element = host.current;
    if (!element) return;
    const detach = services.attachMap(element);
    const unwatch = watchInsets(element, (insets) => services.setMapInsets(insets));
    return () => {
      unwatch();
      detach();
    };
  }, [services]);
  return <div ref={host} className="map-host" data-testid="map" />;
}

/** Clear paper between a panel and what stands on the map above it. */
const GAP = 12;

function watchInsets(host: HTMLElement, tell: (insets: MapInsets) => void): () => void {
  const page = host.closest<HTMLElement>('.page') ?? host;
  let last = '';
  const measure = (): void => {
    const map = host.getBoundingClientRect();
    const insets = { top: 0, right: 0, bottom: 0, left: 0 };
    for (const cover of page.querySelectorAll<HTMLElement>('[data-covers]')) {
      const box = cover.getBoundingClientRect();
      if (box.width === 0 || box.height === 0) continue;
      // A panel that stands at the right on a desk lies over the bottom of a phone.
      const wide = box.width > map.width * 0.7;
      const side = wide && cover.dataset['covers'] !== 'top' ? 'bottom' : cover.dataset['covers'];
      if (side === 'bottom') insets.bottom = Math.max(insets.bottom, map.bottom - box.top);
      if (side === 'right') insets.right = Math.max(insets.right, map.right - box.left);
      if (side === 'top') insets.top = Math.max(insets.top, box.bottom - map.top);
    }
    const bottom = Math.max(0, Math.round(insets.bottom));
    page.style.setProperty('--map-inset-bottom', `${bottom + GAP}px`);
    page.style.setProperty('--map-inset-top', `${Math.max(0, Math.round(insets.top)) + GAP}px`);
    const rounded = {
      top: Math.max(0, Math.round(insets.top)),
      right: Math.max(0, Math.round(insets.right)),
      bottom,
      left: 0,
      corner: cornerOf(page, map),
    };
    const key = JSON.stringify(rounded);
    if (key === last) return;
    last = key;
    tell(rounded);
  };
  const sizes = new ResizeObserver(measure);
  const watchAll = (): void => {
    sizes.disconnect();
    sizes.observe(host);
    for (const cover of page.querySelectorAll('[data-covers], [data-corner]')) sizes.observe(cover);
    measure();
  };
  // Panels come and go only as direct parts of these.
  const comings = new MutationObserver(watchAll);
  comings.observe(page, { childList: true, attributes: true, attributeFilter: ['data-panel'] });
  const notices = page.querySelector('.notices');
  for (const of of [host.parentElement, notices]) if (of) comings.observe(of, { childList: true });
  watchAll();
  return () => {
    sizes.disconnect();
    comings.disconnect();
  };
}

/** How far the bar of the drawing reaches into the map from its upper left. */
function cornerOf(page: HTMLElement, map: DOMRect): MapInsets['corner'] {
  const box = page.querySelector('[data-corner]')?.getBoundingClientRect();
  if (!box || box.width === 0) return null;
  return { right: Math.round(box.right - map.left), bottom: Math.round(box.bottom - map.top) };
}
