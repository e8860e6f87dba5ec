/**
 * The drawing tool in hand: where its ends go, what they would be joined to, and what comes of it.
 * @module sheet/drafter
 */

import { constructionLines, constructionPoints } from "../document/construction.js";
import { jointOf, withHeld } from "../document/dimensions.js";
import { addJoint, addLink, isLink, isPointed } from "../document/draw.js";
import { bodiesAt, bodyAt } from "./hit.js";
import { jointId } from "../values/joint.js";
import { handle, handles, isLoad } from "../document/mount.js";
import { drawn, standing } from "../values/placed.js";
import { alike } from "../document/places.js";
import { reached } from "../document/spans.js";
import { Liner } from "./liner.js";
import { Outliner } from "./outliner.js";
import { sceneOf } from "./scene.js";
import { snap } from "./snap.js";
import { amount } from "../values/units.js";
import { own } from "../values/own.js";

/** @typedef {readonly [number, number]} Point */
/** @typedef {import("../core/store.js").MeasureEnd} MeasureEnd */
/** @typedef {import("../values/view.js").View} View */

/** So near to a joint a distance is taken from the joint itself, pixels. */
const NEAR_PX = 14;

export class Drafter {
  /**
   * @param {import("../core/store.js").Store} store
   * @param {import("../core/editor.js").Editor} editor
   * @param {import("./sheet.js").Sheet} sheet
   */
  constructor(store, editor, sheet) {
    this.store = store;
    this.editor = editor;
    this.sheet = sheet;
    this.outliner = new Outliner(store, editor);
    this.liner = new Liner(store, editor);
    /** Where a measurement begins. @type {MeasureEnd|null} */
    this.measured = null;
  }

  /** Take a tool in hand, or put it down. @param {string|null} tool */
  take(tool) {
    this.measured = null;
    // New joints are drawn where the mount was drawn; a distance is taken where it stands.
    if (tool && !isPointed(tool)) this.editor.work({});
    const { view } = this.store.state;
    const middle = view && tool ? view.invert([this.sheet.size.width / 2, this.sheet.size.height / 2]) : null;
    const draft = tool ? { first: null, at: middle ? this.grid(middle) : null, words: "", bodies: [] } : null;
    // What was just held stays in hand when the tool is put down.
    const { dimension } = this.store.state;
    this.store.set({ tool, draft, guides: [], selected: [], placing: false, dimension: tool ? null : dimension });
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

  /** A tool that points at joints goes to the one that has the focus. @param {string} name handle */
  reach(name) {
    const { mount, readout, tool } = this.store.state;
    const each = handle(mount, name);
    if (each && tool && isPointed(tool)) this.preview(standing(each.at, own(readout?.pose?.bodies, each.body)), true);
  }

  /** @param {Point} at mm @param {boolean} free */
  preview(at, free) {
    const { state } = this.store;
    if (!state.draft) return;
    const near = free || !state.snap ? { at, guides: [] } : this.snapped(at);
    const found = this.settled(state.draft) ? { at: this.spanned(at, near.at, free), guides: [] } : near;
    const draft = { ...state.draft, at: found.at, words: this.words(found.at), bodies: this.bodies(found.at) };
    this.store.set({ draft, guides: found.guides });
  }

  /** @param {Point} at */
  snapped(at) {
    const { mount, grid, view } = this.store.state;
    const others = handles(mount)
      .filter((each) => !isLoad(each.name))
      .map((each) => each.at);
    others.push(...constructionPoints(mount));
    return snap(at, { grid, near: 9 / (view?.scale ?? 1), others, lines: constructionLines(mount) });
  }

  /** Whether a length or an angle was typed for the end in hand. @param {import("../core/store.js").Draft} draft */
  settled({ first, typed }) {
    return first !== null && typed !== undefined && Object.keys(typed).length > 0;
  }

  /**
   * Where the end in hand goes when its length or angle was typed.
   * @param {Point} at where the hand is @param {Point} near where that comes to rest @param {boolean} free
   */
  spanned(at, near, free) {
    const { draft, grid, snap: snaps } = this.store.state;
    const { first, typed } = /** @type {import("../core/store.js").Draft} */ (draft);
    const from = /** @type {{at: Point}} */ (first).at;
    return reached(from, typed?.length === undefined ? at : near, typed ?? {}, free || !snaps ? 0 : grid);
  }

  /** Whether a length and an angle can be typed for the end in hand. */
  get takesSpan() {
    const { tool, draft } = this.store.state;
    return isLink(tool) && Boolean(draft?.first);
  }

  /**
   * A length or an angle is typed for the end in hand, or taken back.
   * @param {"length"|"angle"} what @param {number|undefined} value mm or degrees
   */
  type(what, value) {
    const { draft } = this.store.state;
    if (!draft?.at) return;
    const { [what]: _, ...others } = draft.typed ?? {};
    this.store.set({ draft: { ...draft, typed: value === undefined ? others : { ...others, [what]: value } } });
    this.preview(draft.at, true);
  }

  /** The last corner of an outline is taken back. */
  back() {
    this.outliner.back();
    const { draft } = this.store.state;
    if (draft?.at) this.preview(draft.at, true);
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
    return bodyAt(sceneOf(state, this.sheet.size), /** @type {View} */ (state.view).apply(at));
  }

  /**
   * The two bodies a pin or slide would join: what is under it, and what is under that.
   * @param {Point} at
   * @returns {[string, string]}
   */
  joined(at) {
    const { state } = this.store;
    const under = bodiesAt(sceneOf(state, this.sheet.size), /** @type {View} */ (state.view).apply(at));
    const second = state.onto && state.onto !== "frame" ? state.onto : (under[0] ?? "blade");
    const first = under.find((body) => body !== second) ?? "frame";
    return [first, second];
  }

  /** The bodies the next place would be joined to. @param {Point} at @returns {string[]} */
  bodies(at) {
    const { tool } = this.store.state;
    if (tool === "line" || (tool && isPointed(tool))) return [];
    if (tool === "outline" && this.store.state.draft?.first) return [this.store.state.draft.first.body];
    return tool === "pin" || tool === "slide" ? this.joined(at) : [this.onto(at)];
  }

  /** @param {Point} at */
  words(at) {
    const { tool, draft, system } = this.store.state;
    const length = draft?.first
      ? amount(Math.hypot(at[0] - draft.first.at[0], at[1] - draft.first.at[1]), "fine", system)
      : "";
    if (tool === "measure") return draft?.first ? `${length} to` : "measure from";
    if (tool === "hold") return this.holdWords(at);
    if (tool === "outline") return this.outliner.words(at, this.onto(at));
    if (tool === "line") return this.liner.words(at);
    if (tool === "pin" || tool === "slide") {
      const [first, second] = this.joined(at);
      return tool === "pin" ? `pin: ${first} and ${second}` : `slide: ${second} runs on ${first}`;
    }
    const on = this.onto(at);
    if (!draft?.first) return `${tool}: from ${on}`;
    return on === draft.first.body
      ? `${tool}: both ends on ${on} would hold nothing`
      : `${tool}: ${draft.first.body} to ${on}, ${length},`;
  }

  /** Set the place the cross is at. @returns {boolean} whether it could be set */
  set() {
    const { state } = this.store;
    const { tool, draft } = state;
    if (!tool || !draft?.at) return false;
    const { at } = draft;
    if (tool === "measure") this.measure(at);
    else if (tool === "hold") return this.hold(at);
    else if (tool === "line") {
      const set = this.liner.set(at);
      this.preview(at, true);
      return set;
    } else if (tool === "outline") {
      const set = this.outliner.set(at, this.onto(at));
      this.preview(at, true);
      return set;
    } else if (tool === "pin" || tool === "slide") {
      const [first, second] = this.joined(at);
      this.done(addJoint(state.mount, tool, first, { body: second, at }, state));
    } else if (!draft.first) {
      this.store.set({ draft: { ...draft, first: { body: this.onto(at), at } } });
      this.preview(at, true);
    } else {
      const { first } = draft;
      const body = this.onto(at);
      if (body === first.body || Math.hypot(at[0] - first.at[0], at[1] - first.at[1]) <= 0.01) return false;
      this.done(addLink(state.mount, /** @type {Linked["kind"]} */ (tool), first, { body, at }, state));
    }
    return true;
  }

  /** @param {Mount} mount */
  done(mount) {
    this.editor.change(mount);
    const added = mount.members[mount.members.length - 1];
    this.store.set({
      draft: { first: null, at: this.store.state.draft?.at ?? null, words: "", bodies: [] },
      picked: added.ends ? jointId(added.id, 2) : added.id,
    });
  }

  /** @param {Point} at */
  measure(at) {
    const { measures } = this.store.state;
    const end = this.pointAt(at);
    if (!this.measured) {
      this.measured = end;
      this.store.set({ draft: { first: { body: end.body, at }, at, words: "", bodies: [] } });
      return;
    }
    const pair = /** @type {[MeasureEnd, MeasureEnd]} */ ([this.measured, end]);
    this.measured = null;
    const without = measures.filter(
      ([a, b]) => !(alike(a, pair[0]) && alike(b, pair[1])) && !(alike(a, pair[1]) && alike(b, pair[0])),
    );
    const again = without.length < measures.length;
    this.store.set({
      measures: again || alike(pair[0], pair[1]) ? without : [...measures, pair],
      draft: { first: null, at, words: "", bodies: [] },
    });
  }

  /** The joint a dimension would be held to, as the document calls it. @param {Point} at */
  jointAt(at) {
    const { name } = this.pointAt(at);
    return name === null ? null : jointOf(name);
  }

  /** @param {Point} at */
  holdWords(at) {
    const first = this.measured?.name;
    const joint = this.jointAt(at);
    return `hold ${this.store.state.way}: ${first ? `'${jointOf(first)}' to ` : ""}${joint ? `'${joint}'` : "a joint"}`;
  }

  /** @param {Point} at @returns {boolean} */
  hold(at) {
    const { way } = this.store.state;
    const end = this.pointAt(at);
    const second = this.jointAt(at);
    if (second === null) return false;
    const first = this.measured?.name ? jointOf(this.measured.name) : null;
    if (first === null) {
      this.measured = end;
      this.store.set({ draft: { first: { body: end.body, at }, at, words: this.holdWords(at), bodies: [] } });
      return true;
    }
    if (first === second) return false;
    this.measured = null;
    this.store.set({ draft: { first: null, at, words: "", bodies: [] } });
    this.holding([first, second], way);
    return true;
  }

  /**
   * Hold what lies between two joints, and pick it, or say what settles it already.
   * @param {[string, string]} between @param {Dimension["way"]} way
   */
  async holding(between, way) {
    const fault = await this.editor.propose((mount) => withHeld(mount, between, way));
    const { dimensions = [] } = this.store.state.mount;
    const index = dimensions.findIndex((each) => each.way === way && alike(each.between, between));
    if (!fault && index >= 0) this.store.set({ dimension: index, picked: null, selected: [] });
  }

  /**
   * What is measured from or to: the joint that lies there, else that point of the body under it.
   * @param {Point} at mm as it stands
   * @returns {MeasureEnd}
   */
  pointAt(at) {
    const { mount, readout, view } = this.store.state;
    const bodies = readout?.pose?.bodies ?? {};
    const away = (/** @type {import("../document/mount.js").Handle} */ each) => {
      const [x, y] = standing(each.at, own(bodies, each.body));
      return Math.hypot(x - at[0], y - at[1]);
    };
    const [near] = handles(mount)
      .filter((each) => !isLoad(each.name))
      .sort((a, b) => away(a) - away(b));
    if (near && away(near) * (view?.scale ?? 1) < NEAR_PX) return { body: near.body, name: near.name, at: null };
    const body = this.onto(at);
    return { body, name: null, at: drawn(at, own(bodies, body)) };
  }

  /**
   * Step back: let go of the first end, then of the tool.
   * @returns {boolean} whether there was anything to let go of
   */
  escape() {
    const { tool, draft } = this.store.state;
    if (!tool) return false;
    this.measured = null;
    if (draft?.first) {
      this.store.set({ draft: { ...draft, first: null, typed: undefined, corners: undefined, angle: undefined } });
      if (draft.at) this.preview(draft.at, true);
    } else this.take(null);
    return true;
  }
}
