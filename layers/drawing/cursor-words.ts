/** A few words beside a place of the map: the run that leads there, and what it caught on. */
export class CursorWords {
  private readonly element: HTMLElement;

  constructor(private readonly container: HTMLElement) {
    this.element = container.ownerDocument.createElement('div');
    this.element.className = 'map-cursor-words';
    // The same numbers are in the bar, where they are read aloud when they rest.
    this.element.setAttribute('aria-hidden', 'true');
  }

  /** Lines of text; none takes it away. Stays inside the map. */
  show(lines: readonly string[], at: { readonly x: number; readonly y: number }): void {
    if (lines.length === 0) {
      this.element.remove();
      return;
    }
    this.element.replaceChildren(
      ...lines.map((line) => {
        const row = this.container.ownerDocument.createElement('span');
        row.textContent = line;
        return row;
      }),
    );
    if (!this.element.isConnected) this.container.append(this.element);
    const onLeft = at.x > this.container.clientWidth - 220;
    this.element.style.transform =
      `translate(${at.x}px, ${at.y}px) ` +
      (onLeft ? 'translate(calc(-100% - 18px), 14px)' : 'translate(18px, 14px)');
  }
}
