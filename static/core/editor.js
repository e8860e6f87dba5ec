/**
 * Changes to the mount and its command: every one is shown at once, asked of the server, and can be undone.
 * @module core/editor
 */

import { faultOf, fightFault, outcomeOf } from "./offers.js";
import { acceptAll } from "./complaint.js";
import { followed, withFitted } from "../document/lengths.js";
import { partnerOf, turnedAlike } from "../document/mirror.js";
import { alike } from "../document/places.js";
import { spannedEnd } from "../document/spans.js";
import { directionOf, withTurned } from "../document/direction.js";
import { withMoved, withSize } from "../document/moves.js";
import { fightWords, held } from "../document/settle.js";
import { History } from "./history.js";
import { jointId, splitJoint } from "../values/joint.js";
import { commandFor, cylinders, handle, hasSameMembers, loadSize, loadTurned, renamedIn } from "../document/mount.js";
import { inFractions, preferredUnits } from "../values/units.js";
import { own } from "../values/own.js";
import { asSentence } from "../values/messages.js";
import { messageWords } from "../values/words.js";
import { widest } from "./widest.js";

/** @typedef {readonly [number, number]} Point */
/** @typedef {import("./server.js").Fault} Fault */
/** @typedef {import("../document/moves.js").Outcome} Outcome */

export class Editor {
  /**
   * @param {import("./store.js").Store} store
   * @param {import("./live.js").Live} live
   * @param {(mount: Mount) => import("../values/view.js").View} fitted
   */
  constructor(store, live, fitted) {
    this.store = store;
    this.live = live;
    this.fitted = fitted;
    this.history = new History();
    /** What was there when the change under the hand began. @type {import("./history.js").Snapshot|null} */
    this.before = null;
    /** What was there when the picked thing was picked, for Escape. @type {import("./history.js").Snapshot|null} */
    this.origin = null;
    /** What the arrow keys are moving. @type {string|null} */
    this.nudging = null;
    /** Counts the mounts that were opened. */
    this.openings = 0;
    /** How many typed changes the server has not answered yet. */
    this.offered = 0;
    /**
     * Where the ends are to be brought with every question.
     * @type {(() => import("../document/link.js").Heights)|null}
     */
    this.ends = null;
    /** Whether a mount opens in its own units, for who has chosen none; side by side both have the same. */
    this.ownUnits = true;
    /** After every finished change. @type {(() => void)|null} */
    this.onStep = null;
  }

  /**
   * @param {Mount} mount
   * @param {{shipped?: string|null, command?: Record<string, number>, history?: History, keepView?: boolean}} [how]
   */
  open(mount, { shipped = null, command = {}, history, keepView = false } = {}) {
    this.openings += 1;
    this.before = this.origin = null;
    acceptAll();
    if (history) this.history = history;
    else this.history.reset({ mount, command });
    const { state } = this.store;
    const own = this.ownUnits || !state.mount ? (preferredUnits() ?? mount.display ?? "metric") : state.system;
    const view = keepView && state.view ? state.view : this.fitted(mount);
    this.store.set({
      mount,
      shipped,
      command,
      readout: null,
      answered: null,
      refusal: null,
      picked: null,
      dimension: null,
      selected: [],
      placing: false,
      tool: null,
      draft: null,
      onto: null,
      measures: [],
      drafts: {},
      chosen: keepView && cylinders(mount).some(({ id }) => id === state.chosen) ? state.chosen : null,
      view,
      ownView: keepView && state.ownView,
      allNotices: false,
      system: own,
      ...this.reach(),
    });
    this.ask();
  }

  ask() {
    this.store.set({ asking: true });
    const { mount, command } = this.store.state;
    this.live.ask(mount, command, this.ends?.());
  }

  /** @param {LiveAnswer|LiveRefusal} answer @param {{mount: Mount}} question @param {boolean} newest */
  answered(answer, question, newest) {
    if (newest) this.store.set({ asking: this.offered > 0 });
    const same = question.mount === this.store.state.mount;
    if (answer.error) {
      if (newest) this.store.set({ refusal: answer.error, answered: null });
      return;
    }
    if (!newest && !hasSameMembers(question.mount, this.store.state.mount)) return;
    const { readout } = answer;
    const located = readout.pose !== null;
    const known = own(readout.actuators, this.store.state.chosen);
    const chosen = known ? this.store.state.chosen : located ? widest(readout) : null;
    this.store.set({
      answered: readout,
      readout: located ? readout : same ? null : this.store.state.readout,
      refusal: null,
      chosen,
    });
  }

  /** How far one can go back and forward, and through which steps. */
  reach() {
    const { back, ahead, steps, at } = this.history;
    return { canUndo: back, canRedo: ahead, history: { steps, at } };
  }

  /** A step of its own that was not made here. @param {Mount} mount @param {Record<string, number>} command */
  adopt(mount, command) {
    this.store.set({ mount, command });
    this.ask();
    this.history.push({ mount, command });
    this.settled();
    this.store.set(this.reach());
  }

  now() {
    const { mount, command } = this.store.state;
    return { mount, command };
  }

  /** A change begins under the hand. */
  begin() {
    this.before ??= this.now();
  }

  /** It ends: one step. @param {string|null} [burst] what keys move, maybe on with it @param {string} [name] its own */
  finish(burst = this.nudging, name) {
    const { before } = this;
    this.before = null;
    this.store.set({ guides: [] });
    const now = this.now();
    if (!before || (now.mount === before.mount && now.command === before.command)) return;
    this.history.push(name ? { ...now, name } : now, burst);
    if (!this.nudging) this.settled();
    this.store.set(this.reach());
    this.onStep?.();
  }

  /** From here on Escape puts back no farther than to what is there now. */
  settled() {
    this.origin = this.now();
  }

  /** @param {Mount} mount */
  change(mount) {
    const now = this.store.state.mount;
    const { mount: next, fighting } = held(now, mount);
    if (fighting.length) this.store.set({ message: fightWords(fighting) });
    if (!alike(next, now)) this.put(next);
  }

  /** A step of its own. @param {Mount} mount as what is held lets it */
  put(mount) {
    this.begin();
    this.show(mount);
    this.finish();
  }

  /** @param {Mount} mount */
  show(mount) {
    const { mount: before, command, picked, chosen } = this.store.state;
    const names = renamedIn(before, mount);
    const now = (/** @type {string|null} */ name) => name && (names.get(name) ?? name);
    const [owner, part] = picked === null ? [null] : splitJoint(picked);
    this.store.set({
      mount,
      command: commandFor(before, mount, command),
      picked: owner === null ? null : jointId(now(owner) ?? owner, part ? Number(part) : undefined),
      chosen: now(chosen),
      shipped: null,
    });
    this.ask();
  }

  /**
   * A typed change: asked of the server before it is taken, so that nonsense is refused where it was typed. What is
   * refused already may be mended step by step; without a server the change is taken as it is. A place that takes a
   * cylinder out of its reach is taken as from a drag: what mends it stands in the notice.
   * @param {(mount: Mount) => Mount|Outcome} make
   * @returns {Promise<Fault|null>} why it is not taken
   */
  async offer(make) {
    const { mount, refusal } = this.store.state;
    const { openings } = this;
    const { mount: next, fighting } = outcomeOf(mount, make);
    if (fighting.length) return fightFault(fighting);
    if (alike(next, mount)) return null;
    const fault = refusal ? null : await this.faultOf(next);
    // Meanwhile another mount may have been opened: what was typed was not meant for that one.
    if (openings !== this.openings) return null;
    const { mount: now } = this.store.state;
    const after = fault ? now : outcomeOf(now, make).mount;
    if (alike(after, now)) this.ask();
    else this.put(after);
    return fault;
  }

  /**
   * A change by a tool, which has no field of its own to say beside why it is not taken.
   * @param {(mount: Mount) => Mount|Outcome} make
   */
  async propose(make) {
    const fault = await this.offer(make);
    const { mount, system } = this.store.state;
    if (fault) this.store.set({ message: asSentence(messageWords(fault, mount, system)) });
    return fault;
  }

  /** What the server has against a document, if anything. @param {Mount} mount @returns {Promise<Fault|null>} */
  async faultOf(mount) {
    const { mount: before, command } = this.store.state;
    this.offered += 1;
    this.store.set({ asking: true });
    return faultOf(before, mount, command).finally(() => (this.offered -= 1));
  }

  /**
   * Move a handle, those picked with it, and their partners where both sides are kept alike.
   * @param {string} name
   * @param {Point} to mm as drawn
   */
  moveTo(name, to) {
    const { mount, fighting } = this.withMoved(name, to);
    if (!fighting.length) this.show(mount);
  }

  /** What such a move makes of the mount. @param {string} name @param {Point} to mm as drawn @returns {Outcome} */
  withMoved(name, to) {
    return withMoved((this.before ?? this.now()).mount, name, to, this.store.state);
  }

  /**
   * The mount after joints were moved, by hand or typed: its closed lengths follow, if that is what was chosen.
   * @param {Mount} before @param {Mount} after
   */
  following(before, after) {
    return this.store.state.follow ? followed(before, held(before, after).mount) : after;
  }

  /** Fit a cylinder, and its partner where both sides are kept alike, to where its ends are. @param {string} id */
  fit(id) {
    const { mount, system } = this.store.state;
    const partner = mount.alike ? partnerOf(mount, jointId(id, 1)) : null;
    this.change(withFitted(mount, new Set([id, ...(partner ? [splitJoint(partner)[0]] : [])]), system));
  }

  /** @param {string} name @param {boolean} [more] add it to those picked */
  pick(name, more = false) {
    const { picked, selected } = this.store.state;
    if (more) {
      const base = selected.length ? selected : picked ? [picked] : [];
      const next = base.includes(name) ? base.filter((each) => each !== name) : [...base, name];
      this.store.set({ picked: name, selected: next, placing: false });
      return;
    }
    if (picked === name) return;
    this.origin = this.now();
    this.store.set({
      picked: name,
      selected: selected.includes(name) ? selected : [],
      placing: false,
      otherEnd: false,
      dimension: null,
    });
  }

  /** Put back what the move, or the keys since picking, began with. */
  cancel() {
    const back = this.before ?? this.origin;
    const moving = this.before !== null;
    this.before = null;
    this.store.set({ guides: [] });
    if (!back || back.mount === this.store.state.mount) return;
    this.store.set({ mount: back.mount, command: back.command });
    this.ask();
    if (!moving) {
      this.history.push(back);
      this.store.set(this.reach());
      this.onStep?.();
    }
  }

  /** @param {string} name @param {number} dx steps of the grid @param {number} dy */
  nudge(name, dx, dy) {
    this.nudging = name;
    this.nudged(name, dx, dy);
    this.nudging = null;
  }

  /** @param {string} name @param {number} dx @param {number} dy */
  nudged(name, dx, dy) {
    const { state } = this.store;
    const each = handle(state.mount, name);
    if (!each) return;
    if (name === "load/turn" && state.mount.load) {
      const { size, degrees } = loadSize(state.mount.load);
      this.change(loadTurned(state.mount, degrees - 5 * (dx + dy), size));
      return;
    }
    if (directionOf(name) !== null) {
      this.change(turnedAlike(withTurned(state.mount, name, -5 * (dx + dy)), name));
      return;
    }
    this.begin();
    const [right, up] = [dx, dy].map((steps) => inFractions(steps, state.system) * state.grid);
    this.moveTo(name, [each.at[0] + right, each.at[1] + up]);
    this.finish();
  }

  /**
   * The mount with the picked thing at another coordinate.
   * @param {number} axis @param {number} value mm @returns {Mount|Outcome}
   */
  placed(axis, value) {
    const { state } = this.store;
    const each = state.picked ? handle(state.mount, state.picked) : undefined;
    if (!each) return state.mount;
    return this.withMoved(each.name, axis ? [each.at[0], value] : [value, each.at[1]]);
  }

  /**
   * The mount with the picked rod or cylinder of another length or angle.
   * @param {import("../document/spans.js").Span} settled @returns {Mount|Outcome}
   */
  spanned(settled) {
    const { mount, picked, otherEnd } = this.store.state;
    const to = picked === null ? null : spannedEnd(mount, picked, otherEnd, settled);
    return to ? this.withMoved(to.name, to.at) : mount;
  }

  /**
   * The mount with a held dimension of another size.
   * @param {number} index @param {number} size mm @returns {Outcome}
   */
  sized(index, size) {
    const { mount, follow } = this.store.state;
    return withSize(mount, index, size, follow);
  }

  /** @param {string} id @param {number} move mm */
  stroke(id, move) {
    this.begin();
    this.store.set({ command: { ...this.store.state.command, [id]: move }, chosen: id });
    this.ask();
  }

  /** @param {Record<string, number>} command */
  work(command) {
    if (!Object.keys(this.store.state.command).length && !Object.keys(command).length) return;
    this.begin();
    this.store.set({ command });
    this.ask();
    this.finish();
  }

  /** @param {string} id */
  choose(id) {
    if (cylinders(this.store.state.mount).some((/** @type {Cylinder} */ each) => each.id === id))
      this.store.set({ chosen: id });
  }

  /** @param {-1|1} by */
  step = (by) => this.jump(this.history.at + by);

  /** To any step, as many undo or redo would. @param {number} to */
  jump(to) {
    const found = this.history.jump(to);
    if (!found) return;
    this.store.set({ mount: found.mount, command: found.command, drafts: {}, ...this.reach() });
    this.settled();
    this.ask();
    this.onStep?.();
  }
}
