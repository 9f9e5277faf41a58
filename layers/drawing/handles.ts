/** The two handles that are page elements rather than map symbols, so a finger can hold them. */

const svg = 'http://www.w3.org/2000/svg';

/** A four-way arrow: carries the whole shape. */
export function moveGrip(document: Document): HTMLElement {
  const grip = document.createElement('div');
  grip.className = 'map-grip';
  grip.setAttribute('role', 'img');
  grip.setAttribute('aria-label', 'Move the whole shape');
  const picture = document.createElementNS(svg, 'svg');
  picture.setAttribute('viewBox', '0 0 26 26');
  const ground = document.createElementNS(svg, 'circle');
  for (const [name, value] of [['cx', '13'], ['cy', '13'], ['r', '12']]) ground.setAttribute(name, value); // prettier-ignore
  ground.setAttribute('fill', 'var(--paper, #f7f5ee)');
  ground.setAttribute('stroke', 'var(--flag, #a3195b)');
  ground.setAttribute('stroke-width', '1.6');
  const arrows = document.createElementNS(svg, 'path');
  arrows.setAttribute(
    'd',
    'M13 4.5 V21.5 M4.5 13 H21.5 M10.5 7 L13 4.5 L15.5 7 M10.5 19 L13 21.5 L15.5 19 ' +
      'M7 10.5 L4.5 13 L7 15.5 M19 10.5 L21.5 13 L19 15.5',
  );
  arrows.setAttribute('fill', 'none');
  arrows.setAttribute('stroke', 'var(--ink, #1d2a28)');
  arrows.setAttribute('stroke-width', '1.5');
  picture.append(ground, arrows);
  grip.append(picture);
  return grip;
}

export function dropCornerButton(document: Document, onPress: () => void): HTMLElement {
  const button = document.createElement('button');
  button.type = 'button';
  button.className = 'map-drop-corner';
  button.textContent = 'Delete corner';
  button.addEventListener('click', (event) => {
    event.stopPropagation();
    onPress();
  });
  return button;
}
