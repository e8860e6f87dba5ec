/**
 * The state of the page and its history. Whoever shows something listens; whoever changes something says what.
 * @module store
 */

/**
 * @typedef {Object} State
 * @property {any} mount the document on the sheet
 * @property {string|null} shipped the shipped mount it came from, null once it was changed
 * @property {Record<string, number>} command mm longer than drawn, by cylinder
 * @property {any} readout the newest readout with numbers, for the picture
 * @property {any} answered what the numbers on the page stand on; null where they no longer hold
 * @property {{message: string, faults: {place: string, message: string}[]}|null} refusal why the newest edit was refused
 * @property {boolean} asking whether the newest question has no answer yet
 * @property {"live"|"waiting"|"offline"} link
 * @property {string|null} picked name of a handle
 * @property {boolean} placing whether a tap on the sheet puts the picked thing there
 * @property {string|null} chosen cylinder whose movement is shown
 * @property {Record<string, any>} drafts typed values that wait for the rest of their group, by place
 * @property {{mount: any, answer: any}|null} detail what is asked for once the hand is still
 * @property {string} tab the open panel of the readout
 * @property {boolean} heldOut leave out the play the weight holds
 * @property {boolean} reactions show the forces at the joints
 * @property {boolean} slopes show which way every pivot lowers the worst error
 * @property {{label: string, tolerance: number, source: string}[]} gradings
 * @property {{nominal: number, fits: {fit: string, least: number, greatest: number}[]}|null} fits
 * @property {"left"|"right"} end the end to correct
 * @property {import("./units.js").System} system
 * @property {number} grid mm
 * @property {import("./view.js").View|null} view
 * @property {number} magnification of staffs and ghosts
 */

export class Store {
  /** @param {State} state */
  constructor(state) {
    this.state = state;
    /** @type {Set<(state: State, before: State) => void>} */
    this.listeners = new Set();
  }

  /** @param {Partial<State>} change */
  set(change) {
    const before = this.state;
    this.state = { ...before, ...change };
    for (const listener of this.listeners) listener(this.state, before);
  }

  /** @param {(state: State, before: State) => void} listener */
  listen(listener) {
    this.listeners.add(listener);
  }
}

const DEEPEST = 1000;

/** Steps back and forward. A step is a mount and a command. */
export class History {
  constructor() {
    this.clear();
  }

  clear() {
    /** @type {any[]} */
    this.past = [];
    /** @type {any[]} */
    this.future = [];
  }

  /** Remember what was there before a change. @param {any} before */
  keep(before) {
    this.past.push(before);
    if (this.past.length > DEEPEST) this.past.shift();
    this.future = [];
  }

  /** @param {any} now @returns {any|undefined} */
  back(now) {
    const step = this.past.pop();
    if (step) this.future.push(now);
    return step;
  }

  /** @param {any} now @returns {any|undefined} */
  forward(now) {
    const step = this.future.pop();
    if (step) this.past.push(now);
    return step;
  }
}
