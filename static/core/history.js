/**
 * Steps back and forward: a row of snapshots and where one stands in it.
 * @module core/history
 */

/** @typedef {{mount: Mount, command: Record<string, number>}} Snapshot */

export const DEEPEST = 1000;

export class History {
  /** @param {Snapshot[]} [steps] @param {number} [at] */
  constructor(steps = [], at = steps.length - 1) {
    /** @type {Snapshot[]} */
    this.steps = steps;
    this.at = at;
    /** Called with the number of the first step that changed. @type {((from: number) => void)|null} */
    this.onChange = null;
  }

  /** Start anew from one snapshot. @param {Snapshot} now */
  reset(now) {
    this.steps = [now];
    this.at = 0;
    this.onChange?.(0);
  }

  /** A change was made; what lay ahead is gone. @param {Snapshot} now */
  push(now) {
    this.steps = [...this.steps.slice(0, this.at + 1), now];
    let from = this.steps.length - 1;
    if (this.steps.length > DEEPEST + 1) {
      this.steps = this.steps.slice(-DEEPEST - 1);
      from = 0;
    }
    this.at = this.steps.length - 1;
    this.onChange?.(from);
  }

  get back() {
    return this.at > 0;
  }

  get ahead() {
    return this.at < this.steps.length - 1;
  }

  /** One step back (-1) or forward (1). @param {-1|1} by @returns {Snapshot|null} */
  step(by) {
    if (by < 0 ? !this.back : !this.ahead) return null;
    this.at += by;
    this.onChange?.(this.steps.length);
    return this.steps[this.at];
  }
}
