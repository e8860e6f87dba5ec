/**
 * Another mount shown over the one on the sheet, with its own numbers: a change that is tried before it is taken.
 * @module core/ghosting
 */

import { answerOf } from "./server.js";

/**
 * @typedef {Object} Ghost
 * @property {Mount} mount
 * @property {string} of what it was made from, as the panel that shows it names it
 * @property {string} name what taking it is called
 * @property {Readout|null} readout null until it is there
 * @property {unknown} error why there is none
 */

export class Ghosting {
  /** @param {import("./store.js").Store} store */
  constructor(store) {
    this.store = store;
    /** @type {AbortController|null} */
    this.out = null;
    store.listen((state, before) => {
      const gone = state.mount !== before.mount || state.command !== before.command || state.tab !== before.tab;
      if (state.ghost && gone) this.show(null);
    });
  }

  /** Show one, or none. @param {Pick<Ghost, "mount"|"of"|"name">|null} ghost */
  async show(ghost) {
    this.out?.abort();
    this.store.set({ ghost: ghost && { ...ghost, readout: null, error: null } });
    if (!ghost) return;
    const out = new AbortController();
    this.out = out;
    /** @type {Pick<Ghost, "readout"|"error">} */
    let found;
    try {
      const { command } = this.store.state;
      const readout = await answerOf("/readout", { mount: ghost.mount, command }, { signal: out.signal });
      found = { readout, error: null };
    } catch (error) {
      found = { readout: null, error };
    }
    if (!out.signal.aborted) this.store.set({ ghost: { ...ghost, ...found } });
  }
}
