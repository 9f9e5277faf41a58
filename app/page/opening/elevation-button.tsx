import type { ReactElement } from 'react';
import { FileButton } from '../file-button.tsx';
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
  return (
    <FileButton
      words={words}
      className={isLead ? 'button lead' : 'button'}
      label="Elevation or photo files"
      accept={accepted}
      multiple
      testId={testId}
      onFiles={(files) => services.openFiles(files)}
    />
  );
}
