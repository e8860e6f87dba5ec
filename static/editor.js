/**
 * Changes to the mount and its command: every one is shown at once, asked of the server, and can be undone.
 * @module editor
 */

import { cylinders, handle, loadSize, loadTurned, moved } from "./mount.js";
import { drawn, standing } from "./placed.js";
import { History } from "./store.js";

/** @typedef {readonly [number, number]} Point */

export class Editor {
  /**
   * @param {import("./store.js").Store} store
   * @param {import("./live.js").Live} live
   * @param {(mount: any) => import("./view.js").View} fitted
   */
  constructor(store, live, fitted) {
    this.store = store;
    this.live = live;
    this.fitted = fitted;
    this.history = new History();
    /** What was there when the change under the hand began. @type {any} */
    this.before = null;
    /** What was there when the picked thing was picked, for Escape. @type {any} */
    this.origin = null;
  }

  /** @param {any} mount @param {string|null} shipped */
  open(mount, shipped) {
    this.history.clear();
    this.before = this.origin = null;
    const system = this.store.state.mount ? this.store.state.system : (mount.display ?? "metric");
    this.store.set({ mount, shipped, command: {}, readout: null, answered: null, refusal: null, picked: null, placing: false, chosen: null, view: this.fitted(mount), system });
    this.ask();
  }

  ask() {
    this.store.set({ asking: true });
    const { mount, command } = this.store.state;
    this.live.ask(mount, command);
  }

  /** @param {any} answer @param {any} question @param {boolean} newest */
  answered(answer, question, newest) {
    if (newest) this.store.set({ asking: false });
    const same = question.mount === this.store.state.mount;
    if (answer.error) {
      if (newest) this.store.set({ refusal: answer.error, answered: null });
      return;
    }
    if (!newest && !this.kin(question.mount)) return;
    const { readout } = answer;
    const located = readout.mobility.state === "located";
    const chosen = this.store.state.chosen ?? (located ? widest(readout) : null);
    this.store.set({ answered: readout, readout: located ? readout : same ? null : this.store.state.readout, refusal: null, chosen });
  }

  /** Whether an overtaken answer is about the mount still on the sheet. @param {any} mount */
  kin(mount) {
    const now = this.store.state.mount;
    return mount.members.length === now.members.length && mount.members.every((/** @type {any} */ each, /** @type {number} */ index) => each.id === now.members[index].id);
  }

  now() {
    const { mount, command, shipped } = this.store.state;
    return { mount, command, shipped };
  }

  /** A change begins under the hand. */
  begin() {
    this.before ??= this.now();
  }

  /** It ends: one step to undo. */
  finish() {
    if (!this.before) return;
    const now = this.now();
    if (now.mount !== this.before.mount || now.command !== this.before.command) this.history.keep(this.before);
    this.before = null;
    this.store.set({});
  }

  /** @param {any} mount */
  change(mount) {
    this.begin();
    this.show(mount);
    this.finish();
  }

  /** @param {any} mount */
  show(mount) {
    this.store.set({ mount, shipped: null });
    this.ask();
  }

  /** @param {string} name @param {[number, number]} at pixels @param {boolean} free of the grid */
  drag(name, at, free) {
    const { state } = this.store;
    const each = handle(state.mount, name);
    if (!each || !state.view) return;
    if (name === "load/turn") {
      const [x, y] = state.view.apply(standing(each.at, state.readout?.pose?.bodies.blade));
      const degrees = (Math.atan2(at[1] - y, x - at[0]) * 180) / Math.PI;
      this.show(loadTurned(state.mount, free ? degrees : Math.round(degrees / 5) * 5, loadSize(state.mount.load).size));
      return;
    }
    const to = drawn(state.view.invert(at), state.readout?.pose?.bodies[each.body]);
    this.show(moved(state.mount, name, free ? to : this.snapped(to)));
  }

  /** @param {Point} at @returns {[number, number]} */
  snapped(at) {
    const { grid } = this.store.state;
    return [Math.round(at[0] / grid) * grid, Math.round(at[1] / grid) * grid];
  }

  /** @param {string} name */
  pick(name) {
    if (this.store.state.picked === name) return;
    this.origin = this.now();
    this.store.set({ picked: name, placing: false });
  }

  /** Put back what the move, or the keys since picking, began with. @param {string} _name */
  cancel(_name) {
    const back = this.before ?? this.origin;
    this.before = null;
    if (!back || back.mount === this.store.state.mount) return;
    this.store.set({ ...back });
    this.ask();
  }

  /** @param {string} name @param {number} dx steps of the grid @param {number} dy */
  nudge(name, dx, dy) {
    const { state } = this.store;
    const each = handle(state.mount, name);
    if (!each) return;
    if (name === "load/turn") {
      const { size, degrees } = loadSize(state.mount.load);
      this.change(loadTurned(state.mount, degrees - 5 * (dx + dy), size));
      return;
    }
    this.change(moved(state.mount, name, [each.at[0] + dx * state.grid, each.at[1] + dy * state.grid]));
  }

  /** @param {number} axis @param {number} value mm */
  coordinate(axis, value) {
    const { state } = this.store;
    const each = state.picked ? handle(state.mount, state.picked) : undefined;
    if (!each || each.at[axis] === value) return;
    /** @type {[number, number]} */
    const at = [each.at[0], each.at[1]];
    at[axis] = value;
    this.change(moved(state.mount, each.name, at));
  }

  /** A tap puts the picked thing there, when that was asked for. @param {[number, number]} at */
  tap(at) {
    const { state } = this.store;
    if (!state.placing || !state.picked) return false;
    this.begin();
    this.drag(state.picked, at, false);
    this.finish();
    this.store.set({ placing: false });
    return true;
  }

  /** @param {string} id @param {number} move mm */
  stroke(id, move) {
    this.begin();
    this.store.set({ command: { ...this.store.state.command, [id]: move }, chosen: id });
    this.ask();
  }

  /** @param {Record<string, number>} command */
  work(command) {
    this.begin();
    this.store.set({ command });
    this.ask();
    this.finish();
  }

  /** @param {string} id */
  choose(id) {
    if (cylinders(this.store.state.mount).some((/** @type {any} */ each) => each.id === id)) this.store.set({ chosen: id });
  }

  undo() {
    this.step(this.history.back(this.now()));
  }

  redo() {
    this.step(this.history.forward(this.now()));
  }

  /** @param {any} step */
  step(step) {
    if (!step) return;
    this.store.set(step);
    this.ask();
  }
}

/** The cylinder whose coupling is farthest from nought; the later one when equal. @param {any} readout */
function widest(readout) {
  let best = null;
  let most = -1;
  for (const [id, each] of Object.entries(readout.actuators)) {
    const size = Math.abs(each.coupling ?? 0);
    if (size >= most - 1e-9) {
      most = size;
      best = id;
    }
  }
  return best;
}

