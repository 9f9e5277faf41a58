/** What `watchScripts` keeps, as the page's global `scripts`. */
export interface ScriptLog {
  /** Milliseconds of script since `begin`, the map's painting left out. */
  ours: number;
  /** Frames in which the map painted. */
  frames: number;
  begin(): void;
}

/**
 * To be run in a page before its own code: times everything that an event, an answer of a worker, a
 * microtask of the page's library or an animation frame runs. A frame in which something was drawn
 * by WebGL is the map's painting and counted apart.
 */
export function watchScripts(): void {
  const log: ScriptLog = {
    ours: 0,
    frames: 0,
    begin() {
      log.ours = 0;
    },
  };
  Object.assign(globalThis, { scripts: log });
  let depth = 0;
  let hasPainted = false;

  type Callback = (this: unknown, ...args: unknown[]) => unknown;
  const timed = (callback: Callback, isFrame = false): Callback =>
    function (...args) {
      // What runs inside something that is timed is timed with it.
      if (depth > 0) return callback.apply(this, args);
      const start = performance.now();
      depth++;
      hasPainted = false;
      try {
        return callback.apply(this, args);
      } finally {
        depth--;
        if (isFrame && hasPainted) log.frames++;
        else log.ours += performance.now() - start;
      }
    };

  for (const name of ['drawElements', 'drawArrays'] as const) {
    const draw = WebGL2RenderingContext.prototype[name] as Callback;
    Object.assign(WebGL2RenderingContext.prototype, {
      [name](this: unknown, ...args: unknown[]) {
        hasPainted = true;
        return draw.apply(this, args);
      },
    });
  }

  const frame = globalThis.requestAnimationFrame.bind(globalThis);
  globalThis.requestAnimationFrame = (callback) => frame(timed(callback as Callback, true));
  const micro = globalThis.queueMicrotask.bind(globalThis);
  globalThis.queueMicrotask = (callback) => micro(timed(callback));

  const wrapped = new WeakMap<object, Callback>();
  const wrap = (listener: unknown): unknown => {
    if (typeof listener !== 'function') return listener;
    const made = wrapped.get(listener) ?? timed(listener as Callback);
    wrapped.set(listener, made);
    return made;
  };
  const { addEventListener, removeEventListener } = EventTarget.prototype;
  EventTarget.prototype.addEventListener = function (type, listener, options) {
    addEventListener.call(this, type, wrap(listener) as EventListener, options);
  };
  EventTarget.prototype.removeEventListener = function (type, listener, options) {
    removeEventListener.call(this, type, wrap(listener) as EventListener, options);
  };
  for (const { prototype } of [Worker, MessagePort]) {
    const { get, set } = Object.getOwnPropertyDescriptor(prototype, 'onmessage')!;
    Object.defineProperty(prototype, 'onmessage', {
      configurable: true,
      ...(get ? { get } : {}),
      set(this: unknown, listener: unknown) {
        set!.call(this, wrap(listener));
      },
    });
  }
}
