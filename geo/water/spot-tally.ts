/** One closed hollow, whole: from its deepest cell up to where it spills. */
export interface FilledSpot {
  readonly cells: number;
  readonly areaSquareMeters: number;
  readonly volumeCubicMeters: number;
  readonly maxDepthMeters: number;
  readonly spillElevationMeters: number;
  /** Index of the deepest cell; the lowest one among equals. */
  readonly deepestCell: number;
}

/**
 * Counts per label while low spots are being joined: union-find over labels 1, 2 … with the
 * cells, summed depth and deepest cell of each.
 */
export class SpotTally {
  private count = 0;
  private parent = new Int32Array(1024);
  private cells = new Int32Array(1024);
  private deepest = new Int32Array(1024);
  private depthSum = new Float64Array(1024);
  private depthMax = new Float64Array(1024);

  /** A new label of its own. */
  open(): number {
    const label = ++this.count;
    if (label === this.parent.length) this.grow();
    this.parent[label] = label;
    return label;
  }

  /** Adds a cell; cells of one label come in rising order, so the first of equals stays deepest. */
  add(label: number, cell: number, depth: number): void {
    this.cells[label]!++;
    this.depthSum[label]! += depth;
    if (depth <= this.depthMax[label]!) return;
    this.depthMax[label] = depth;
    this.deepest[label] = cell;
  }

  join(a: number, b: number): void {
    const rootA = this.root(a);
    const rootB = this.root(b);
    if (rootA < rootB) this.parent[rootB] = rootA;
    else this.parent[rootA] = rootB;
  }

  /** Spots by volume, and for each label 1 + the rank of its spot. */
  finish(
    filled: Float32Array,
    cellAreaSquareMeters: number,
  ): { readonly spots: readonly FilledSpot[]; readonly rankOf: Int32Array } {
    const { cells, depthSum, depthMax, deepest } = this;
    const roots: number[] = [];
    for (let label = 1; label <= this.count; label++) {
      const root = this.root(label);
      if (root === label) roots.push(label);
      else this.merge(root, label);
    }
    roots.sort((a, b) => depthSum[b]! - depthSum[a]! || deepest[a]! - deepest[b]!);
    const rankOf = new Int32Array(this.count + 1);
    roots.forEach((root, i) => (rankOf[root] = i + 1));
    for (let label = 1; label <= this.count; label++) rankOf[label] = rankOf[this.root(label)]!;
    const spots = roots.map((root) => ({
      cells: cells[root]!,
      areaSquareMeters: cells[root]! * cellAreaSquareMeters,
      volumeCubicMeters: depthSum[root]! * cellAreaSquareMeters,
      maxDepthMeters: depthMax[root]!,
      spillElevationMeters: filled[deepest[root]!]!,
      deepestCell: deepest[root]!,
    }));
    return { spots, rankOf };
  }

  private root(label: number): number {
    const { parent } = this;
    while (parent[label] !== label) {
      parent[label] = parent[parent[label]!]!;
      label = parent[label]!;
    }
    return label;
  }

  private merge(into: number, from: number): void {
    const { cells, depthSum, depthMax, deepest } = this;
    cells[into]! += cells[from]!;
    depthSum[into]! += depthSum[from]!;
    const deeper = depthMax[from]! - depthMax[into]!;
    if (deeper > 0 || (deeper === 0 && deepest[from]! < deepest[into]!)) {
      depthMax[into] = depthMax[from]!;
      deepest[into] = deepest[from]!;
    }
  }

  private grow(): void {
    const length = this.parent.length * 2;
    this.parent = longer(this.parent, new Int32Array(length));
    this.cells = longer(this.cells, new Int32Array(length));
    this.deepest = longer(this.deepest, new Int32Array(length));
    this.depthSum = longer(this.depthSum, new Float64Array(length));
    this.depthMax = longer(this.depthMax, new Float64Array(length));
  }
}

function longer<T extends Int32Array | Float64Array>(from: T, to: T): T {
  to.set(from);
  return to;
}
