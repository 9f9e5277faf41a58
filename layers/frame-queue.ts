/** Runs the newest of the tasks asked for under each name, once per frame. */
export class FrameQueue {
  private tasks = new Map<string, () => void>();
  private frame: number | null = null;

  constructor(
    // Wrapped: the browser's own functions refuse to be called as members of another object.
    private readonly request: (run: () => void) => number = (run) => requestAnimationFrame(run),
    private readonly cancel: (frame: number) => void = (frame) => cancelAnimationFrame(frame),
  ) {}

  add(name: string, task: () => void): void {
    this.tasks.set(name, task);
    this.frame ??= this.request(() => this.run());
  }

  stop(): void {
    if (this.frame !== null) this.cancel(this.frame);
    this.frame = null;
    this.tasks.clear();
  }

  private run(): void {
    this.frame = null;
    const tasks = [...this.tasks.values()];
    this.tasks.clear();
    for (const task of tasks) task();
  }
}
