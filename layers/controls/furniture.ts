import { feetScale, meterScale, type ScaleLength } from './scale-lengths.ts';

/** What every plan sheet carries: a scale bar in feet and metres, and a north arrow. */
export interface Furniture {
  readonly element: HTMLElement;
  /** Call when the zoom or the latitude has changed. */
  update(metersPerPixel: number): void;
}

const room = 150;
const svg = 'http://www.w3.org/2000/svg';

export function createFurniture(document: Document): Furniture {
  const element = document.createElement('div');
  element.className = 'map-furniture';
  const scale = document.createElement('div');
  scale.className = 'map-scale';
  scale.setAttribute('role', 'img');
  const feet = scaleRow(document, 'map-scale-feet');
  const meters = scaleRow(document, 'map-scale-meters');
  scale.append(feet.words, feet.bar, meters.bar, meters.words);
  element.append(scale, northArrow(document));
  let shown = 0;
  return {
    element,
    update(metersPerPixel) {
      if (metersPerPixel === shown || !(metersPerPixel > 0)) return;
      shown = metersPerPixel;
      const inFeet = feetScale(metersPerPixel, room);
      const inMeters = meterScale(metersPerPixel, room);
      feet.show(inFeet);
      meters.show(inMeters);
      scale.setAttribute(
        'aria-label',
        `Scale: ${inFeet.count} ${inFeet.unit}, ${inMeters.count} ${inMeters.unit}`,
      );
    },
  };
}

interface ScaleRow {
  readonly words: HTMLElement;
  readonly bar: HTMLElement;
  show(length: ScaleLength): void;
}

/** Zero, middle and end over a bar that is half dark and half light. */
function scaleRow(document: Document, className: string): ScaleRow {
  const words = document.createElement('div');
  words.className = `map-scale-words ${className}`;
  const bar = document.createElement('div');
  bar.className = `map-scale-bar ${className}`;
  const labels = ['0', '', ''].map((text) => {
    const label = document.createElement('span');
    label.textContent = text;
    words.append(label);
    return label;
  });
  return {
    words,
    bar,
    show({ count, unit, pixels }) {
      words.style.width = bar.style.width = `${pixels.toFixed(1)}px`;
      const half = count / 2;
      labels[1].textContent = half.toLocaleString('en-US');
      labels[2].textContent = `${count.toLocaleString('en-US')} ${unit}`;
    },
  };
}

function northArrow(document: Document): SVGSVGElement {
  const arrow = document.createElementNS(svg, 'svg');
  arrow.setAttribute('class', 'map-north');
  arrow.setAttribute('viewBox', '0 0 24 34');
  arrow.setAttribute('role', 'img');
  arrow.setAttribute('aria-label', 'North is up');
  const needle = document.createElementNS(svg, 'path');
  needle.setAttribute('d', 'M12 1 L19 20 L12 15.5 L5 20 Z');
  const letter = document.createElementNS(svg, 'text');
  letter.setAttribute('x', '12');
  letter.setAttribute('y', '32');
  letter.setAttribute('text-anchor', 'middle');
  letter.textContent = 'N';
  arrow.append(needle, letter);
  return arrow;
}
