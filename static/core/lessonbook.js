/**
 * The lessons that are there, and the one that is being written: every change of it is kept as it is made.
 * @module core/lessonbook
 */

import { newLesson } from "../document/lessons.js";
import { answerOf } from "./server.js";

/** @typedef {{document: Lesson, id: string, revision: number}} Draft */

/**
 * @typedef {Object} Shelved
 * @property {ShippedLesson[]} shipped
 * @property {LessonEntry[]} own
 * @property {Draft|null} draft the one that is being written
 * @property {string|null} away the one last taken off the list
 * @property {{step: LessonStep, at: number}|null} removed the step last taken out of the draft
 * @property {string} said
 */

export class LessonBook {
  /** @param {() => void} shown told of every change @param {(error: unknown) => string} words what went wrong */
  constructor(shown, words) {
    this.shown = shown;
    this.words = words;
    /** @type {Shelved} */
    this.state = { shipped: [], own: [], draft: null, away: null, removed: null, said: "" };
    /** Changes go to the library one after the other. @type {Promise<void>} */
    this.keeping = Promise.resolve();
  }

  /** @param {Partial<Shelved>} change */
  set(change) {
    this.state = { ...this.state, ...change };
    this.shown();
  }

  /** Ask what is there. */
  async list() {
    await this.trying(async () => {
      const [shipped, own] = await Promise.all([answerOf("/shipped-lessons"), answerOf("/lessons")]);
      this.set({ shipped, own });
    });
  }

  /**
   * A lesson, shipped or kept.
   * @param {string} name of a shipped one, or the id of a kept one @returns {Promise<Lesson>}
   */
  async document(name) {
    if (this.state.shipped.some((each) => each.name === name))
      return answerOf(/** @type {"/shipped-lessons/{name}"} */ (`/shipped-lessons/${name}`));
    return (await answerOf(/** @type {"/lessons/{id}"} */ (`/lessons/${name}`))).lesson;
  }

  /** Write on at a kept one. @param {string} id */
  async edit(id) {
    await this.trying(async () => {
      const { lesson, revision } = await answerOf(/** @type {"/lessons/{id}"} */ (`/lessons/${id}`));
      this.set({ draft: { document: lesson, id, revision }, removed: null, said: "" });
    });
  }

  /** Keep a new one, and write on at it. @param {Lesson} document */
  async add(document) {
    await this.trying(async () => {
      const { id, revision } = await answerOf("/lessons", { lesson: document });
      this.set({ draft: { document, id, revision }, removed: null, said: "Kept." });
    });
  }

  /** A new one of a single step. @param {LessonStep} step */
  async begin(step) {
    await this.add(newLesson(step));
  }

  /** Another like it, that may be changed. @param {string} name */
  async copy(name) {
    await this.trying(async () => {
      const found = await this.document(name);
      await this.add({ ...found, title: `${found.title.slice(0, 110)}, copy` });
    });
  }

  /** Change the one that is written, and keep that. @param {Lesson} document @param {Partial<Shelved>} [more] */
  change(document, more = { removed: null }) {
    const { draft } = this.state;
    if (!draft) return;
    this.set({ draft: { ...draft, document }, said: "", ...more });
    this.keeping = this.keeping.then(() => this.keep());
  }

  /** Keep the draft as it is now. */
  async keep() {
    const { draft } = this.state;
    if (!draft) return;
    try {
      const { document, id, revision } = draft;
      const path = /** @type {"/lessons"} */ (`/lessons/${id}`);
      const kept = await answerOf(path, { lesson: document, revision }, { method: "PUT" });
      const now = this.state.draft;
      if (now?.id === id) this.set({ draft: { ...now, revision: kept.revision }, said: "Kept." });
    } catch (error) {
      this.set({ said: `Not kept. ${this.words(error)}` });
    }
  }

  /** Back to the list; what was changed has been kept or is said not to be. */
  async close() {
    await this.keeping;
    this.set({ draft: null, removed: null, said: "" });
    await this.list();
  }

  /** @param {string} id */
  async putAway(id) {
    await this.trying(async () => {
      const path = /** @type {"/lessons/{id}/restore"} */ (`/lessons/${id}`);
      await answerOf(path, undefined, { method: "DELETE" });
      this.set({ away: id, said: "Taken off the list." });
      await this.list();
    });
  }

  async bringBack() {
    await this.trying(async () => {
      const path = /** @type {"/lessons/{id}/restore"} */ (`/lessons/${this.state.away}/restore`);
      await answerOf(path, undefined, { method: "POST" });
      this.set({ away: null, said: "Back on the list." });
      await this.list();
    });
  }

  /** @param {() => Promise<void>} doing */
  async trying(doing) {
    try {
      await doing();
    } catch (error) {
      this.set({ said: this.words(error) });
    }
  }
}
