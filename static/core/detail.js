/**
 * What takes longer is asked for once the hand is still, and given up when the hand moves again.
 * @module core/detail
 */

import { answerOf } from "./server.js";

const STILL_MS = 120;

export class Detail {
  /** @param {import("./store.js").Store} store */
  constructor(store) {
    this.store = store;
    this.timer = 0;
    /** @type {AbortController|null} */
    this.out = null;
    store.listen((state, before) => {
      if (state.mount !== before.mount || state.command !== before.command) this.stop();
      if (state.answered && state.answered !== before.answered && !state.asking) this.wait();
    });
  }

  stop() {
    clearTimeout(this.timer);
    this.out?.abort();
    this.out = null;
    if (this.store.state.detail) this.store.set({ detail: null });
  }

  wait() {
    clearTimeout(this.timer);
    this.timer = window.setTimeout(() => this.ask(), STILL_MS);
  }

  async ask() {
    const { mount, command } = this.store.state;
    const out = new AbortController();
    this.out = out;
    try {
      // The true worst first: the verdict hangs on it, and the statistics take longer.
      for (const route of /** @type {const} */ (["/worst", "/detail"])) {
        const answer = await answerOf(route, { mount, command }, { signal: out.signal });
        if (out.signal.aborted) return;
        this.store.set({ detail: { mount, answer } });
      }
    } catch {
      // Given up, refused, or the server is away: the next readout asks again.
    }
  }
}
