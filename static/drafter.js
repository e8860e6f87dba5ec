/**
 * The drawing tool in hand: where its ends go, what they would be joined to, and what comes of it.
 * @module drafter
 */

import { addJoint, addLink } from "./draw.js";
import { bodiesAt, bodyAt } from "./hit.js";
import { handles, isLoad } from "./mount.js";
import { sceneOf } from "./scene.js";
import { snap } from "./snap.js";

/** @typedef {readonly [number, number]} Point */

export class Drafter {
  /** @param {import("./store.js").Store} store @param {import("./editor.js").Editor} editor @param {import("./sheet.js").Sheet} sheet */
  constructor(store, editor, sheet) {
    this.store = store;
    this.editor = editor;
    this.sheet = sheet;
    /** The handle the first place of a measurement is on. @type {string|null} */
    this.measured = null;
  }

  /** Take a tool in hand, or put it down. @param {string|null} tool */
  take(tool) {
    this.measured = null;
    if (tool) this.editor.work({});
    const { view } = this.store.state;
    const middle = view && tool ? view.invert([this.sheet.size.width / 2, this.sheet.size.height / 2]) : null;
    const draft = tool ? { first: null, at: middle ? this.grid(middle) : null, words: "" } : null;
    this.store.set({ tool, draft, guides: [], selected: [], placing: false });
    if (tool) this.preview(/** @type {Point} */ (draft?.at), true);
  }

  /** @param {Point} at @returns {[number, number]} */
  grid(at) {
    const { grid } = this.store.state;
    return [Math.round(at[0] / grid) * grid, Math.round(at[1] / grid) * grid];
  }

  /** The cross is over a pixel. @param {Point} pixel @param {boolean} free of grid and guides */
  over(pixel, free) {
    const { view } = this.store.state;
    if (view && this.store.state.tool) this.preview(view.invert(pixel), free);
  }

  /** @param {Point} at mm @param {boolean} free */
  preview(at, free) {
    const { state } = this.store;
    if (!state.draft) return;
    const found = free || !state.snap ? { at, guides: [] } : this.snapped(at);
    const draft = { ...state.draft, at: found.at, words: this.words(found.at) };
    this.store.set({ draft, guides: found.guides });
  }

  /** @param {Point} at */
  snapped(at) {
    const { mount, grid, view } = this.store.state;
    const others = handles(mount).filter((each) => !isLoad(each.name)).map((each) => each.at);
    return snap(at, { grid, near: 9 / (view?.scale ?? 1), others });
  }

  /** Move the cross by steps of the grid. @param {number} dx @param {number} dy */
  nudge(dx, dy) {
    const { draft, grid } = this.store.state;
    if (draft?.at) this.preview([draft.at[0] + dx * grid, draft.at[1] + dy * grid], true);
  }

  /** @param {Point} at mm */
  onto(at) {
    const { state } = this.store;
    if (state.onto) return state.onto;
    return bodyAt(sceneOf(state, this.sheet.size), /** @type {any} */ (state.view).apply(at));
  }

  /** The two bodies a pin or slide would join: what is under it, and what is under that. @param {Point} at @returns {[string, string]} */
  joined(at) {
    const { state } = this.store;
    const under = bodiesAt(sceneOf(state, this.sheet.size), /** @type {any} */ (state.view).apply(at));
    const second = state.onto && state.onto !== "frame" ? state.onto : (under[0] ?? "blade");
    const first = under.find((body) => body !== second) ?? "frame";
    return [first, second];
  }

  /** @param {Point} at */
  words(at) {
    const { tool, draft } = this.store.state;
    if (tool === "measure") return "measure";
    if (tool === "pin" || tool === "slide") {
      const [first, second] = this.joined(at);
      return tool === "pin" ? `pin: ${first} and ${second}` : `slide: ${second} runs on ${first}`;
    }
    const on = this.onto(at);
    return draft?.first ? `${tool}: ${draft.first.body} to ${on}` : `${tool}: from ${on}`;
  }

  /** Set the place the cross is at. */
  set() {
    const { state } = this.store;
    const { tool, draft } = state;
    if (!tool || !draft?.at) return;
    const { at } = draft;
    if (tool === "measure") this.measure(at);
    else if (tool === "pin" || tool === "slide") {
      const [first, second] = this.joined(at);
      this.done(addJoint(state.mount, tool, first, { body: second, at }));
    } else if (!draft.first) {
      this.store.set({ draft: { ...draft, first: { body: this.onto(at), at } } });
      this.preview(at, true);
    } else if (Math.hypot(at[0] - draft.first.at[0], at[1] - draft.first.at[1]) > 0.01) {
      this.done(addLink(state.mount, /** @type {"rod"|"cylinder"} */ (tool), draft.first, { body: this.onto(at), at }));
    }
  }

  /** @param {any} mount */
  done(mount) {
    this.editor.change(mount);
    const added = mount.members[mount.members.length - 1];
    this.store.set({ draft: { first: null, at: this.store.state.draft?.at ?? null, words: "" }, picked: added.ends ? `${added.id}/2` : added.id });
  }

  /** @param {Point} at */
  measure(at) {
    const { mount, measures } = this.store.state;
    const near = handles(mount).filter((each) => !isLoad(each.name)).sort((a, b) => Math.hypot(a.at[0] - at[0], a.at[1] - at[1]) - Math.hypot(b.at[0] - at[0], b.at[1] - at[1]))[0];
    if (!this.measured) {
      this.measured = near.name;
      this.store.set({ draft: { first: { body: near.body, at: near.at }, at, words: "measure" } });
      return;
    }
    const pair = /** @type {[string, string]} */ ([this.measured, near.name]);
    this.measured = null;
    const without = measures.filter(([a, b]) => !(a === pair[0] && b === pair[1]) && !(a === pair[1] && b === pair[0]));
    const again = without.length < measures.length;
    this.store.set({ measures: again || pair[0] === pair[1] ? without : [...measures, pair], draft: { first: null, at, words: "" } });
  }

  /** Step back: let go of the first end, then of the tool. @returns {boolean} whether there was anything to let go of */
  escape() {
    const { tool, draft } = this.store.state;
    if (!tool) return false;
    this.measured = null;
    if (draft?.first) {
      this.store.set({ draft: { ...draft, first: null } });
      if (draft.at) this.preview(draft.at, true);
    } else this.take(null);
    return true;
  }
}

