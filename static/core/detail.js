/**
 * What takes longer is asked for once the hand is still, and given up when the hand moves again.
 * @module core/detail
 */

const STILL_MS = 220;

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
      const answer = await fetch("/detail", {
        method: "POST",
        headers: { "content-type": "application/json" },
        body: JSON.stringify({ mount, command }),
        signal: out.signal,
      });
      if (!answer.ok || out.signal.aborted) return;
      this.store.set({ detail: { mount, answer: await answer.json() } });
    } catch {
      // Given up, or the server is away: the next readout asks again.
    }
  }
}
