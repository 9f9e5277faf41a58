/** The browser's own file dialog; must be called from a press of a button or key. */
export function pickFiles(accept: string, take: (files: readonly File[]) => void): void {
  const input = document.createElement('input');
  input.type = 'file';
  input.multiple = true;
  input.accept = accept;
  input.hidden = true;
  // Some browsers open the dialog only for what is in the page.
  document.body.append(input);
  input.addEventListener('cancel', () => input.remove());
  input.addEventListener('change', () => {
    const files = [...(input.files ?? [])];
    input.remove();
    if (files.length > 0) take(files);
  });
  input.click();
}
