import { useLayoutEffect, useRef, type ReactElement } from 'react';
import { useServices } from '../services.ts';

const accepted =
  '.tif,.tiff,.asc,.grd,.xyz,.csv,.txt,image/tiff,text/csv,text/plain,application/octet-stream';

/** The browser's file dialog for elevation and photos. */
export function ElevationButton({
  words,
  isLead,
  testId,
}: {
  readonly words: string;
  readonly isLead: boolean;
  /** Names the file input for tests; one of several on the page has it. */
  readonly testId?: string;
}): ReactElement {
  const services = useServices();
  const picker = useRef<HTMLInputElement>(null);
  // By the element itself and never taken off: the demo's ground may come while the file dialog is
  // open and put another button in this one's place; what is picked then must not be lost.
  useLayoutEffect(() => {
    const input = picker.current;
    input?.addEventListener('change', () => {
      const files = [...(input.files ?? [])];
      input.value = '';
      if (files.length > 0) services.openFiles(files);
    });
  }, [services]);
  return (
    <>
      <button
        type="button"
        className={isLead ? 'button lead' : 'button'}
        onClick={() => picker.current?.click()}
      >
        {words}
      </button>
      <input
        ref={picker}
        type="file"
        multiple
        hidden
        accept={accepted}
        aria-label="Elevation or photo files"
        data-testid={testId}
      />
    </>
  );
}
