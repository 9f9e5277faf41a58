import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { ErrorBoundary } from './error-boundary.tsx';
import { Page } from './page.tsx';
import type { Services } from './services.ts';

/** Puts the page into an element of the document; the function given back takes it out again. */
export function mountPage(element: HTMLElement, services: Services): () => void {
  const root = createRoot(element);
  root.render(
    <StrictMode>
      <ErrorBoundary name="Assart">
        <Page services={services} />
      </ErrorBoundary>
    </StrictMode>,
  );
  return () => root.unmount();
}
