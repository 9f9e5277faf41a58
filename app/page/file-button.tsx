import { useEffect, useLayoutEffect, useRef, type ReactElement } from 'react';

/**
 * A button that asks for files by the browser's own dialog. What is picked is handed over even if
 * the button has gone from the page since its dialog opened: the listener is on the element itself
 * and never taken off.
 */
export function FileButton({
  words,
  className = 'button',
  label,
  accept,
  multiple = false,
  testId,
  onFiles,
}: {
  readonly words: string;
  readonly className?: string;
  /** Names the file input for those who do not see it. */
  readonly label: string;
  readonly accept?: string;
  readonly multiple?: boolean;
  readonly testId?: string | undefined;
  onFiles(files: File[]): void;
}): ReactElement {
  const picker = useRef<HTMLInputElement>(null);
  const take = useRef(onFiles);
  useEffect(() => {
    take.current = onFiles;
  });
  useLayoutEffect(() => {
    const input = picker.current!;
    input.addEventListener('change', () => {
      const files = [...(input.files ?? [])];
      input.value = '';
      if (files.length > 0) take.current(files);
    });
  }, []);
  return (
    <>
      <button type="button" className={className} onClick={() => picker.current?.click()}>
        {words}
      </button>
      <input
        ref={picker}
        type="file"
        hidden
        multiple={multiple}
        accept={accept}
        aria-label={label}
        data-testid={testId}
      />
    </>
  );
}
