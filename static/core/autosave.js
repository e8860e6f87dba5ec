/**
 * Keeping: every step goes to the library as it is made; what could not be sent yet is sent again.
 * @module core/autosave
 */

import { alike } from "../document/places.js";
import { SLOWEST_ANSWER_MS, answerOf, newKey, said } from "./server.js";
import { loadSteps, saveSteps } from "./steps.js";

/** Where steps are kept in the browser until the library has them. */
const DRAFT = "draft";

const SLOWEST_RETRY_MS = 8000;

/** @typedef {Worked & {key: string}} Step */

export class Autosave {
  /** @param {import("./store.js").Store} store @param {import("./editor.js").Editor} editor */
  constructor(store, editor) {
    this.store = store;
    this.editor = editor;
    /** @type {string|null} */
    this.id = null;
    this.revision = 0;
    /** The newest step that is not acknowledged. @type {Step|null} */
    this.waiting = null;
    /** A new copy that is not acknowledged. @type {Step|null} */
    this.creating = null;
    /** Until the browser has the newest step. @type {Promise<void>} */
    this.saved = Promise.resolve();
    /** A revision of another tab's that came at a bad moment. */
    this.missed = 0;
    this.retry = 0;
    this.pause = 500;
    /** Counts openings: only the newest takes the sheet. */
    this.opening = 0;
    /** Whether a draft, if there was one, has been looked for. */
    this.drafted = false;
    this.sending = false;
    /** Whether the newest step could not be kept. */
    this.stuck = false;
    /** @type {WebSocket|null} */
    this.watching = null;
    /** After a mount was taken into the library. @type {((id: string) => void)|null} */
    this.onNew = null;
    editor.onStep = () => this.step();
    editor.history.onChange = (from) => this.remember(from);
    store.listen((state, before) => {
      if (state.link === "live" && before.link === "offline") {
        this.watch();
        this.send();
      }
      if (this.missed > this.revision && !this.editor.before && !this.waiting && !this.sending) this.heard(this.missed);
      if (!state.asking && before.asking) queueMicrotask(() => this.send());
    });
  }

  /** Whether the newest step is on its way to the library: it waits for nobody but the server. */
  get underway() {
    const { asking, refusal, clash, link } = this.store.state;
    return this.waiting !== null && !this.stuck && (asking || !refusal) && !clash && link !== "offline";
  }

  /** Whether opening another mount would lose a change: it never reached the library. */
  get unkept() {
    return this.waiting !== null && !this.id;
  }

  /** A mount that is not in the library: its first change makes a copy there. */
  forget() {
    this.opening += 1;
    this.id = null;
    this.missed = 0;
    this.revision = 0;
    this.waiting = this.creating = null;
    this.unwatch();
    if (this.drafted) saveSteps(DRAFT, [], -1, 0, false);
    this.drafted = true;
    this.store.set({ kept: "", clash: null });
    history.replaceState(null, "", location.pathname);
    keepLast(null);
  }

  /**
   * Open a mount of the library, with its steps.
   * @param {string} id @param {boolean} [keepView] seen from where the one before is
   * @returns {Promise<boolean>}
   */
  async open(id, keepView = false) {
    this.opening += 1;
    const { opening } = this;
    const answer = await fetch(`/library/${id}`);
    if (!answer.ok) return false;
    /** @type {KeptMount} */
    const found = await answer.json();
    const steps = await loadSteps(id);
    if (opening !== this.opening) return true;
    this.waiting = this.creating = null;
    this.revision = found.revision;
    this.missed = 0;
    this.take(id);
    const here = steps?.steps[steps.at];
    const same = here && alike(here.mount, found.mount);
    const ahead = here && !same && steps.unsent;
    if (steps && (same || ahead)) {
      this.editor.history.steps = steps.steps;
      this.editor.history.at = steps.at;
      this.editor.open(here.mount, { command: here.command, history: this.editor.history, keepView });
      if (ahead) this.step();
    } else this.editor.open(found.mount, { command: found.command, keepView });
    this.store.set({ kept: "kept" });
    return true;
  }

  /**
   * Work that never got to the library, because the drawing did not hold or the server was away.
   * @returns {Promise<boolean>}
   */
  async openDraft() {
    const draft = await loadSteps(DRAFT);
    const here = draft?.unsent ? draft.steps[draft.at] : undefined;
    if (!draft || !here) return false;
    this.editor.history.steps = draft.steps;
    this.editor.history.at = draft.at;
    this.editor.open(here.mount, { command: here.command, history: this.editor.history });
    this.step();
    return true;
  }

  /** From here on this is the mount being kept. @param {string} id */
  take(id) {
    this.id = id;
    this.store.set({ clash: null });
    history.replaceState(null, "", `#k=${id}`);
    keepLast(id);
    this.watch();
  }

  step() {
    const { mount, command } = this.store.state;
    this.waiting = { mount, command, key: newKey() };
    this.stuck = false;
    if (!this.id) history.replaceState(null, "", location.pathname);
    this.saved = this.remember(this.editor.history.steps.length);
    this.store.set({ kept: "keeping…" });
    this.send();
  }

  async send() {
    const step = this.creating ?? this.waiting;
    const { asking, refusal, mount, clash } = this.store.state;
    if (!step || this.sending || clash) return;
    // Only what the server has read as a whole document is sent; while a drag goes on, the step it ends with.
    if (!this.creating && (asking || step.mount !== mount)) return;
    // A document whose numbers failed for no fault of its own is kept all the same.
    if (!this.creating && refusal && refusal.code !== "unforeseen") {
      // Said once the browser has it, so that whoever reads it may load the page anew.
      this.saved.then(() => this.waiting === step && this.store.set({ kept: "not kept until the drawing holds" }));
      return;
    }
    // A copy whose answer got lost is asked for again under the same key, before anything newer.
    if (!this.id) this.creating = step;
    this.sending = true;
    this.stuck = false;
    clearTimeout(this.retry);
    const { id } = this;
    try {
      const { origin } = this.store.state;
      const answer = this.id
        ? await ask(`/library/${this.id}`, "PUT", { revision: this.revision, ...step })
        : await ask("/library", "POST", { ...step, ...(origin ? { origin } : {}) });
      const body = await answer.json();
      // Another mount may be on the sheet by now: the answer is not about that one.
      if (this.id === id && (id || this.creating === step)) this.told(step, answer, body);
      this.pause = 500;
    } catch {
      if (this.id !== id) return;
      this.stuck = true;
      this.store.set({ kept: "not kept yet: the server is away" });
      this.retry = window.setTimeout(() => this.send(), this.pause);
      this.pause = Math.min(this.pause * 2, SLOWEST_RETRY_MS);
      return;
    } finally {
      this.sending = false;
    }
    if (this.waiting && this.waiting !== step) this.send();
  }

  /** What the library says of a step. @param {Step} step @param {Response} answer @param {StepAnswer} body */
  told(step, answer, body) {
    this.creating = null;
    if (answer.ok && !body.error) {
      if (this.store.state.gone) this.store.set({ gone: false });
      if (!this.id && body.id) {
        this.take(body.id);
        this.onNew?.(body.id);
        this.remember(0);
        saveSteps(DRAFT, [], -1, 0, false);
      }
      this.revision = body.revision;
      if (this.waiting === step) this.waiting = null;
      // Said once the browser has the steps too, so that undo is there for whoever loads the page anew on reading it.
      this.remember(this.editor.history.steps.length).then(
        () => this.revision === body.revision && !this.waiting && this.store.set({ kept: "kept" }),
      );
      return;
    }
    this.stuck = answer.status !== 404;
    const code = body.error?.code;
    if (code === "changed-elsewhere" && "mount" in body) {
      const older = body.revision < this.revision;
      const { revision, mount, command } = body;
      this.store.set({ clash: { revision, mount, command: command ?? {}, older }, kept: "" });
    } else if (code === "deleted")
      this.store.set({ kept: "not kept: this mount was deleted; bring it back from the library" });
    else if (code === "library-gone") {
      this.creating = null;
      this.store.set({
        gone: true,
        kept: "not kept: the file of your mounts was taken away; this page holds the step",
      });
      this.retry = window.setTimeout(() => this.send(), SLOWEST_RETRY_MS);
    } else if (code === "bad-document") this.store.set({ kept: "not kept until the drawing holds" });
    else if (answer.status === 404) {
      // The library does not know this mount any more, as after a start with another data folder: keep it as a new one.
      this.id = null;
      this.waiting = { ...step, key: newKey() };
    } else {
      this.store.set({ kept: `not kept: ${body.error?.message ?? "the server refused it"}` });
      // The page holds the step meanwhile, for when its file is there again.
      if (answer.status >= 500) this.retry = window.setTimeout(() => this.send(), SLOWEST_RETRY_MS);
    }
  }

  /** The file of the library was taken away: have a new one made, and keep there what the page holds. */
  async again() {
    try {
      await answerOf("/library/renew", undefined, { method: "POST" });
    } catch (error) {
      this.store.set({ message: said(error, this.store.state.system) });
      return;
    }
    this.store.set({ gone: false });
    this.id = null;
    this.unwatch();
    this.creating = null;
    this.step();
  }

  /** Someone else changed the same mount: their state is taken, mine stays one undo away. */
  theirs() {
    const { clash } = this.store.state;
    if (!clash) return;
    this.waiting = null;
    this.revision = clash.revision;
    this.store.set({ clash: null, kept: "kept" });
    this.editor.adopt(clash.mount, clash.command);
  }

  /** Mine goes on top; theirs stays among the earlier versions. */
  mine() {
    const { clash } = this.store.state;
    if (!clash) return;
    this.revision = clash.revision;
    this.store.set({ clash: null });
    this.step();
  }

  watch() {
    this.unwatch();
    if (!this.id) return;
    const socket = new WebSocket(
      `${location.protocol === "https:" ? "wss" : "ws"}://${location.host}/library/${this.id}/watch`,
    );
    this.watching = socket;
    socket.addEventListener("message", (event) => {
      if (socket === this.watching) this.heard(JSON.parse(event.data).revision);
    });
  }

  unwatch() {
    const socket = this.watching;
    this.watching = null;
    // A line that is closed before it is there makes the browser complain.
    if (socket?.readyState === WebSocket.CONNECTING) socket.addEventListener("open", () => socket.close());
    else socket?.close();
  }

  /** @param {number} revision */
  async heard(revision) {
    const { id } = this;
    if (!id || revision <= this.revision) return;
    // The answer to my own step will tell, and a drag is ended first.
    this.missed = this.sending || this.waiting || this.editor.before ? revision : 0;
    if (this.missed) return;
    const answer = await fetch(`/library/${id}`);
    if (!answer.ok) return;
    /** @type {KeptMount} */
    const found = await answer.json();
    if (id !== this.id || found.revision <= this.revision) return;
    if (this.waiting || this.sending || this.editor.before) {
      this.missed = found.revision;
      return;
    }
    this.revision = found.revision;
    this.editor.adopt(found.mount, found.command);
    this.store.set({ kept: "changed in another tab just now" });
  }

  /**
   * Keep the steps here, for undo after a reload.
   * @param {number} from the first that changed
   * @returns {Promise<void>}
   */
  remember(from) {
    const { steps, at } = this.editor.history;
    if (this.id) return saveSteps(this.id, steps, at, from, this.waiting !== null);
    return this.waiting ? saveSteps(DRAFT, steps, at, 0, true) : Promise.resolve();
  }
}

/** @param {string} path @param {"POST"|"PUT"} method @param {Step & {revision?: number, origin?: string}} body */
function ask(path, method, body) {
  return fetch(path, {
    method,
    headers: { "content-type": "application/json" },
    body: JSON.stringify(body),
    signal: AbortSignal.timeout(SLOWEST_ANSWER_MS),
  });
}

/** @param {string|null} id */
function keepLast(id) {
  try {
    if (id) localStorage.setItem("last", id);
    else localStorage.removeItem("last");
  } catch {
    // Private windows may refuse to keep it.
  }
}

/** The mount that was open last, if any. */
export function lastKept() {
  try {
    return localStorage.getItem("last");
  } catch {
    return null;
  }
}
