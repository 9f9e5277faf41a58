const svg = 'http://www.w3.org/2000/svg';

/** A cross over the clear part of the map, under which the map is moved to set points without a pointer. */
export class Cross {
  private readonly element: HTMLElement;
  private place = { x: 0, y: 0 };

  constructor(private readonly container: HTMLElement) {
    const document = container.ownerDocument;
    this.element = document.createElement('div');
    this.element.className = 'map-cross';
    this.element.setAttribute('aria-hidden', 'true');
    const picture = document.createElementNS(svg, 'svg');
    picture.setAttribute('viewBox', '-24 -24 48 48');
    for (const [name, width] of [
      ['under', '4.5'],
      ['over', '1.8'],
    ] as const) {
      const lines = document.createElementNS(svg, 'path');
      lines.setAttribute('class', name);
      lines.setAttribute('d', 'M-22 0 H-5 M5 0 H22 M0 -22 V-5 M0 5 V22 M-0.6 0 H0.6');
      lines.setAttribute('stroke-width', width);
      picture.append(lines);
    }
    this.element.append(picture);
  }

  /** Where it stands, pixels of the map. */
  get at(): { readonly x: number; readonly y: number } {
    return this.place;
  }

  get isShown(): boolean {
    return this.element.isConnected;
  }

  show(at: { readonly x: number; readonly y: number }): void {
    this.place = at;
    this.element.style.transform = `translate(${at.x - 24}px, ${at.y - 24}px)`;
    if (!this.isShown) this.container.append(this.element);
  }

  hide(): void {
    this.element.remove();
  }
}
