/**
 * A search that goes on beside the server: started, followed, ended, and found again after a reload.
 * @module core/searcher
 */

import { freeAsked } from "../document/free.js";
import { Refused, answerOf } from "./server.js";

const KEPT = "search";
const EVERY_MS = 100;
/** The server is away: asked again after so long. */
const AWAY_MS = 1500;

/**
 * A search as the page knows it.
 * @typedef {Object} Search
 * @property {string|null} id its name; null where there is none to ask for
 * @property {SearchQuestion|null} asked what is asked until the server has begun it
 * @property {Mount} mount it began with
 * @property {Goal[]} goals
 * @property {SearchStanding|null} standing
 * @property {unknown} error why nothing more is known of it
 */

export class Searcher {
  /** @param {import("./store.js").Store} store */
  constructor(store) {
    this.store = store;
    this.timer = 0;
    this.resume();
  }

  async start() {
    const { mount, command, wishes, effort, search } = this.store.state;
    if (search?.asked || search?.standing?.state === "going") return;
    const { goals } = wishes;
    const id = token();
    const asked = { mount, command, goals, free: freeAsked(mount, wishes), ...effort, id };
    this.show({ id, asked, mount, goals, standing: null, error: null });
    await this.begin();
  }

  /** Have the server begin it: asked twice, it is begun once. */
  async begin() {
    const { search } = this.store.state;
    if (!search?.asked) return;
    try {
      const standing = await answerOf("/search", search.asked);
      if (this.store.state.search?.id !== search.id) return;
      this.show({ ...search, asked: null, standing, error: null });
      this.wait(EVERY_MS);
    } catch (error) {
      if (this.store.state.search?.id !== search.id) return;
      const refused = error instanceof Refused;
      this.show(refused ? { ...search, id: null, asked: null, error } : { ...search, error });
      if (!refused) this.wait(AWAY_MS);
    }
  }

  /** End it with what it has so far. */
  async cancel() {
    await this.ask("DELETE");
  }

  /** Put its answer away. */
  drop() {
    clearTimeout(this.timer);
    this.show(null);
  }

  /** @param {number} ms */
  wait(ms) {
    clearTimeout(this.timer);
    this.timer = window.setTimeout(() => (this.store.state.search?.asked ? this.begin() : this.ask()), ms);
  }

  /** @param {"GET"|"DELETE"} [method] */
  async ask(method = "GET") {
    const { search } = this.store.state;
    if (!search?.id || search.asked) return;
    const { id } = search;
    try {
      const standing = await answerOf(`/search/${id}`, undefined, { method });
      if (this.store.state.search?.id !== id) return;
      this.show({ ...search, standing, error: null });
      if (standing.state === "going") this.wait(EVERY_MS);
    } catch (error) {
      if (this.store.state.search?.id !== id) return;
      const gone = error instanceof Refused;
      this.show({ ...search, id: gone ? null : id, standing: gone ? null : search.standing, error });
      if (!gone) this.wait(AWAY_MS);
    }
  }

  /** @param {Search|null} search */
  show(search) {
    this.store.set({ search });
    try {
      if (search?.id) sessionStorage.setItem(KEPT, JSON.stringify({ ...search, standing: null, error: null }));
      else sessionStorage.removeItem(KEPT);
    } catch {
      // Private windows may refuse to keep it; it lasts as long as the page.
    }
  }

  /** The search of before a reload. */
  resume() {
    try {
      const kept = JSON.parse(sessionStorage.getItem(KEPT) ?? "null");
      if (typeof kept?.id !== "string" || !kept.mount || !Array.isArray(kept.goals)) return;
      this.store.set({ search: kept });
      this.wait(0);
    } catch {
      // Nothing was kept that can be read.
    }
  }
}

/** A name that no other search has. */
function token() {
  return [...crypto.getRandomValues(new Uint8Array(16))].map((each) => each.toString(16).padStart(2, "0")).join("");
}
