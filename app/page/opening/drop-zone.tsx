import { useEffect, useState, type ReactElement } from 'react';
import { useServices } from '../services.ts';

/** Takes files dropped anywhere on the page; while they hang over it, says what a drop will do. */
export function DropZone(): ReactElement | null {
  const services = useServices();
  const [over, setOver] = useState(false);
  useEffect(() => {
    // Children fire their own enter and leave, so that these are counted.
    let depth = 0;
    const hasFiles = (event: DragEvent): boolean =>
      event.dataTransfer?.types.includes('Files') ?? false;
    const enter = (event: DragEvent): void => {
      if (!hasFiles(event)) return;
      depth++;
      setOver(true);
    };
    const leave = (event: DragEvent): void => {
      if (!hasFiles(event)) return;
      depth = Math.max(0, depth - 1);
      if (depth === 0) setOver(false);
    };
    const hang = (event: DragEvent): void => {
      if (hasFiles(event)) event.preventDefault();
    };
    const drop = (event: DragEvent): void => {
      if (!hasFiles(event)) return;
      event.preventDefault();
      depth = 0;
      setOver(false);
      const files = [...(event.dataTransfer?.files ?? [])];
      if (files.length > 0) services.openFiles(files);
    };
    const listeners = { dragenter: enter, dragleave: leave, dragover: hang, drop } as const;
    for (const [type, listener] of Object.entries(listeners)) {
      window.addEventListener(type as 'drop', listener);
    }
    return () => {
      for (const [type, listener] of Object.entries(listeners)) {
        window.removeEventListener(type as 'drop', listener);
      }
    };
  }, [services]);
  if (!over) return null;
  return (
    <div className="drop-zone" role="status">
      <p>Let go to open it: elevation, shots, an orthophoto, a drawing, or a saved project.</p>
    </div>
  );
}
