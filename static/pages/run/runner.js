/**
 * One mount of the page and its run: asks for it over the line, and keeps what has come of the newest question.
 * @module pages/run/runner
 */

import { answerOf } from "../../core/server.js";
import { Series } from "./series.js";

/** @typedef {import("../../core/server.js").Refusal} Refusal */

const AGAIN_MS = 1000;

export class Runner {
  /** @param {"a"|"b"} name @param {() => void} changed told whenever there is more */
  constructor(name, changed) {
    this.name = name;
    this.changed = changed;
    /** @type {Mount|null} */
    this.mount = null;
    this.series = new Series();
    /** The newest of what was said; with the summary once the run is whole. @type {RunLive|null} */
    this.live = null;
    /** @type {Refusal|null} */
    this.refusal = null;
    /** @type {RunCost[]|null} */
    this.costs = null;
    /** @type {RunBest[]|null} */
    this.best = null;
    this.state = /** @type {"waiting"|"live"|"offline"} */ ("waiting");
    this.seq = 0;
    /** @type {RunSettings|null} */
    this.settings = null;
    /** @type {WebSocket|null} */
    this.socket = null;
    /** @type {AbortController|null} */
    this.further = null;
  }

  /** Run the mount anew. @param {Mount|null} mount @param {RunSettings} settings */
  ask(mount, settings) {
    if (mount !== this.mount) this.best = null;
    this.mount = mount;
    this.settings = settings;
    this.costs = null;
    this.refusal = null;
    this.seq += 1;
    this.further?.abort();
    this.state = "waiting";
    this.series = new Series();
    this.live = mount && this.live ? { ...this.live, summary: null, seeds: null } : null;
    if (!mount) this.state = "live";
    else if (this.socket?.readyState === WebSocket.OPEN) this.send();
    else this.connect();
    this.changed();
  }

  send() {
    this.socket?.send(JSON.stringify({ seq: this.seq, mount: this.mount, run: this.settings }));
  }

  connect() {
    if (this.socket?.readyState === WebSocket.CONNECTING) return;
    const socket = new WebSocket(`${location.protocol === "https:" ? "wss" : "ws"}://${location.host}/run/live`);
    this.socket = socket;
    socket.addEventListener("open", () => this.send());
    socket.addEventListener("message", ({ data }) => this.hear(JSON.parse(data)));
    socket.addEventListener("close", () => {
      if (this.socket !== socket) return;
      this.state = "offline";
      this.changed();
      setTimeout(() => this.mount && this.connect(), AGAIN_MS);
    });
  }

  /** @param {{seq: number|null, live?: RunLive, error?: Refusal}} told */
  hear({ seq, live, error }) {
    if (seq !== this.seq) return;
    if (error) {
      this.refusal = error;
      this.series = new Series();
      this.live = null;
      this.state = "live";
    }
    if (live) {
      this.series.take(live.piece);
      this.live = live;
      if (live.summary) this.state = "live";
    }
    this.changed();
  }

  /** Ask what costs most, or for its best settings. @param {"costs"|"best"} what */
  async askFurther(what) {
    if (!this.mount || this[what]) return;
    const { seq, mount } = this;
    this.further = new AbortController();
    const question = { mount, run: this.settings };
    const { signal } = this.further;
    try {
      if (what === "costs") {
        const found = await answerOf("/run/costs", question, { signal });
        if (seq === this.seq) this.costs = found;
      } else {
        const found = await answerOf("/run/best", question, { signal });
        if (mount === this.mount) this.best = found;
      }
    } catch {
      // Asked again when the run changes; what was refused is said with the run itself.
    }
    this.changed();
  }
}
