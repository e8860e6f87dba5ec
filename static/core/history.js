/**
 * Steps back and forward: a row of snapshots and where one stands in it.
 * @module core/history
 */

/**
 * A state of the mount, and what the step that led to it is called, where it has a name.
 * @typedef {{mount: Mount, command: Record<string, number>, name?: string}} Snapshot
 */

export const DEEPEST = 1000;

/** A press of a key within so long of the one before belongs to the same step. */
const BURST_MS = 1000;

export class History {
  /** @param {Snapshot[]} [steps] @param {number} [at] */
  constructor(steps = [], at = steps.length - 1) {
    /** @type {Snapshot[]} */
    this.steps = steps;
    this.at = at;
    /**
     * What keys did last: the next press of them may go on with it.
     * @type {{of: string, step: Snapshot, at: number}|null}
     */
    this.burst = null;
    /** Called with the number of the first step that changed. @type {((from: number) => void)|null} */
    this.onChange = null;
  }

  /** Start anew from one snapshot. @param {Snapshot} now */
  reset(now) {
    this.steps = [now];
    this.at = 0;
    this.onChange?.(0);
  }

  /**
   * A change was made; what lay ahead is gone. One that goes on with a burst of keys takes the place of its step.
   * @param {Snapshot} now
   * @param {string|null} [burst] what the keys move, or null where it was no key
   * @param {number} [at] when, ms
   */
  push(now, burst = null, at = performance.now()) {
    const last = this.burst;
    const same = last !== null && last.of === burst && last.step === this.steps[this.at];
    const goesOn = same && at - last.at <= BURST_MS;
    this.burst = burst === null ? null : { of: burst, step: now, at };
    this.steps = [...this.steps.slice(0, this.at + (goesOn ? 0 : 1)), now];
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
    return this.jump(this.at + by);
  }

  /** To any step. @param {number} to @returns {Snapshot|null} */
  jump(to) {
    if (to === this.at || !this.steps[to]) return null;
    this.at = to;
    this.burst = null;
    this.onChange?.(this.steps.length);
    return this.steps[to];
  }
}
