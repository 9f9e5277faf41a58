/** Runs the newest of the tasks asked for under each name, once per frame. */
export class FrameQueue {
  private tasks = new Map<string, () => void>();
  private frame: number | null = null;

  constructor(
    private readonly request: (run: () => void) => number = requestAnimationFrame,
    private readonly cancel: (frame: number) => void = cancelAnimationFrame,
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
