import type { CoveredCells } from './covered-cells.ts';

/** Collects covered cells in typed arrays that double when full. */
export class CoverageList {
  private spans = 0;
  private spanRow = new Int32Array(256);
  private start = new Int32Array(256);
  private end = new Int32Array(256);
  private partials = 0;
  private partialRow = new Int32Array(1024);
  private column = new Int32Array(1024);
  private share = new Float64Array(1024);
  private total = 0;

  addWhole(row: number, start: number, end: number): void {
    if (this.spans === this.start.length) {
      this.spanRow = doubled(this.spanRow);
      this.start = doubled(this.start);
      this.end = doubled(this.end);
    }
    this.spanRow[this.spans] = row;
    this.start[this.spans] = start;
    this.end[this.spans] = end;
    this.spans++;
    this.total += end - start;
  }

  addPartial(row: number, column: number, share: number): void {
    if (this.partials === this.column.length) {
      this.partialRow = doubled(this.partialRow);
      this.column = doubled(this.column);
      const more = new Float64Array(this.share.length * 2);
      more.set(this.share);
      this.share = more;
    }
    this.partialRow[this.partials] = row;
    this.column[this.partials] = column;
    this.share[this.partials] = share;
    this.partials++;
    this.total += share;
  }

  finish(): CoveredCells & { readonly coveredCells: number } {
    return {
      whole: { count: this.spans, row: this.spanRow, start: this.start, end: this.end },
      partial: {
        count: this.partials,
        row: this.partialRow,
        column: this.column,
        share: this.share,
      },
      coveredCells: this.total,
    };
  }
}

function doubled(array: Int32Array): Int32Array<ArrayBuffer> {
  const more = new Int32Array(array.length * 2);
  more.set(array);
  return more;
}
