import { useRef, type ReactElement } from 'react';
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
        onChange={(event) => {
          const files = [...(event.target.files ?? [])];
          event.target.value = '';
          if (files.length > 0) services.openFiles(files);
        }}
      />
    </>
  );
}
