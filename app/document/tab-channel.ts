import * as Y from 'yjs';

/** The part of BroadcastChannel that is used; tests put a lossy one in its place. */
export interface TabPort {
  postMessage(message: unknown): void;
  onmessage: ((event: MessageEvent) => void) | null;
  close(): void;
}

type Body =
  | { readonly kind: 'hello'; readonly vector: Uint8Array }
  | {
      readonly kind: 'state';
      readonly to: string;
      readonly update: Uint8Array;
      /** What its sender has; null in the last message of a handshake. */
      readonly vector: Uint8Array | null;
    }
  | { readonly kind: 'update'; readonly update: Uint8Array }
  | { readonly kind: 'sent' };

/** `sent` is how many updates its sender has sent so far, this one included. */
type TabMessage = Body & { readonly format: 1; readonly from: string; readonly sent: number };

export interface TabChannelOptions {
  readonly doc: Y.Doc;
  readonly port: TabPort;
  /** Unique to this tab. */
  readonly self: string;
  /** Origin of changes that come from other tabs. */
  readonly origin: unknown;
  readonly onUnreadable: (error: unknown) => void;
}

/**
 * Keeps the tabs of one plan equal. Each tab counts its updates; whoever sees that one is missing
 * asks ("hello", with what it has), is sent what it lacks ("state"), and sends back what the other
 * lacks. A state vector does not tell of deletions, so counting and sending back are both needed.
 */
export class TabChannel {
  readonly #options: TabChannelOptions;
  readonly #heard = new Map<string, number>();
  /** Tabs of which an update was missed and whose answer has not come yet. */
  readonly #behind = new Set<string>();
  #sent = 0;
  #closed = false;
  #onAnswer: (() => void) | null = null;

  constructor(options: TabChannelOptions) {
    this.#options = options;
    options.port.onmessage = (event) => {
      const message = event.data as TabMessage | null;
      // Another version of Assart may speak another format: not ours to understand.
      if (typeof message !== 'object' || message?.format !== 1) return;
      try {
        this.#receive(message);
      } catch (error) {
        options.onUnreadable(error);
      }
    };
  }

  /** Asks every other tab for what is missing here. */
  hello(): void {
    this.#post({ kind: 'hello', vector: Y.encodeStateVector(this.#options.doc) });
  }

  update(update: Uint8Array): void {
    this.#sent++;
    this.#post({ kind: 'update', update });
  }

  /** Says how many updates went out, so that a tab which lost the last one notices. */
  confirm(): void {
    if (this.#sent > 0) this.#post({ kind: 'sent' });
  }

  /** After hello: resolves with the first tab's answer, or when none came in time. */
  firstAnswer(waitMilliseconds: number): Promise<void> {
    return new Promise((resolve) => {
      const timer = setTimeout(resolve, waitMilliseconds);
      this.#onAnswer = () => {
        clearTimeout(timer);
        resolve();
      };
    });
  }

  close(): void {
    this.#closed = true;
    this.#options.port.onmessage = null;
    this.#options.port.close();
  }

  #post(body: Body): void {
    if (this.#closed) return;
    const { port, self } = this.#options;
    port.postMessage({ format: 1, from: self, sent: this.#sent, ...body });
  }

  #receive(message: TabMessage): void {
    const { doc, self, origin } = this.#options;
    const { from, sent } = message;
    const expected = (this.#heard.get(from) ?? 0) + (message.kind === 'update' ? 1 : 0);
    this.#heard.set(from, Math.max(this.#heard.get(from) ?? 0, sent));
    const missed = sent > expected;
    if (missed) this.#behind.add(from);

    switch (message.kind) {
      case 'hello':
        this.#post({
          kind: 'state',
          to: from,
          vector: Y.encodeStateVector(doc),
          update: Y.encodeStateAsUpdate(doc, message.vector),
        });
        if (missed) this.hello();
        break;
      case 'state':
        if (message.to !== self) break;
        Y.applyUpdate(doc, message.update, origin);
        this.#behind.delete(from);
        this.#onAnswer?.();
        if (message.vector) {
          // Not counted as an update: a lost one would set off the next handshake, and so on.
          const update = Y.encodeStateAsUpdate(doc, message.vector);
          this.#post({ kind: 'state', to: from, update, vector: null });
        }
        break;
      case 'update':
        Y.applyUpdate(doc, message.update, origin);
        if (this.#behind.has(from)) this.hello();
        break;
      case 'sent':
        if (this.#behind.has(from)) this.hello();
        break;
    }
  }
}
