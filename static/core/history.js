/**
 * Steps back and forward: a row of snapshots and where one stands in it.
 * @module core/history
 */

/**
 * A state of the mount, and what the step that led to it is called, where it has a name.
 * @typedef {{mount: Mount, command: Record<string, number>, name?: string}} Snapshot
 */

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

  /** What the step back is called, if it has a name. */
  get backName() {
    return (this.back && this.steps[this.at].name) || null;
  }

  /** What the step forward is called, if it has a name. */
  get aheadName() {
    return (this.ahead && this.steps[this.at + 1].name) || null;
  }

  /** One step back (-1) or forward (1). @param {-1|1} by @returns {Snapshot|null} */
  step(by) {
    if (by < 0 ? !this.back : !this.ahead) return null;
    this.at += by;
    this.onChange?.(this.steps.length);
    return this.steps[this.at];
  }
}
