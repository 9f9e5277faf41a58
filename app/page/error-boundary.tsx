import { Component, type ErrorInfo, type ReactElement, type ReactNode } from 'react';

interface Props {
  /** What stands inside, as it is named in the message. */
  readonly name: string;
  readonly children: ReactNode;
}

/** Keeps one part's failure from taking the page down: says so, and lets it be tried again. */
export class ErrorBoundary extends Component<Props, { readonly failed: string | null }> {
  override state = { failed: null as string | null };

  static getDerivedStateFromError(error: unknown): { failed: string } {
    return { failed: error instanceof Error ? error.message : String(error) };
  }

  override componentDidCatch(error: Error, info: ErrorInfo): void {
    console.error(`${this.props.name} failed`, error, info.componentStack);
  }

  override render(): ReactNode {
    if (this.state.failed === null) return this.props.children;
    return <Failed name={this.props.name} message={this.state.failed} again={this.again} />;
  }

  private again = (): void => this.setState({ failed: null });
}

function Failed({
  name,
  message,
  again,
}: {
  readonly name: string;
  readonly message: string;
  readonly again: () => void;
}): ReactElement {
  return (
    <section className="failed" role="alert">
      <p>
        <b>{name} stopped working.</b> What you drew is kept. Try it again, or reload the page.
      </p>
      <p className="aside">{message}</p>
      <div className="tools">
        <button type="button" className="button lead" onClick={again}>
          Try again
        </button>
        <button type="button" className="button" onClick={() => location.reload()}>
          Reload
        </button>
      </div>
    </section>
  );
}
