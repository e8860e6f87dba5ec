/**
 * The tool that draws a body's outline: corner by corner, until the first is met again.
 * @module sheet/outliner
 */

import { withOutline } from "../document/outlines.js";
import { amount } from "../values/units.js";

/** @typedef {readonly [number, number]} Point */

/** So near to the first corner the outline closes, pixels. */
const NEAR_PX = 12;
const SAME_MM = 0.01;

export class Outliner {
  /**
   * @param {import("../core/store.js").Store} store
   * @param {import("../core/editor.js").Editor} editor
   */
  constructor(store, editor) {
    this.store = store;
    this.editor = editor;
  }

  get corners() {
    return this.store.state.draft?.corners ?? [];
  }

  /** @param {Point} at mm @param {string} under the body a first corner would be on */
  words(at, under) {
    const { draft, system } = this.store.state;
    const body = draft?.first?.body ?? under;
    const { corners } = this;
    if (!corners.length) return `outline of ${body}: first corner`;
    if (this.closes(at)) return `outline of ${body}: close it`;
    const last = corners[corners.length - 1];
    const long = amount(Math.hypot(at[0] - last[0], at[1] - last[1]), "fine", system);
    return `outline of ${body}: corner ${corners.length + 1}, side ${long},`;
  }

  /** Whether a corner set there closes the outline. @param {Point} at */
  closes(at) {
    const { corners } = this;
    const [first, last] = [corners[0], corners[corners.length - 1]];
    if (corners.length < 3) return false;
    const near = NEAR_PX / (this.store.state.view?.scale ?? 1);
    return Math.hypot(at[0] - first[0], at[1] - first[1]) < near || isSame(at, last);
  }

  /** Set a corner, or close the outline. @param {Point} at mm @param {string} under @returns {boolean} */
  set(at, under) {
    const { draft } = this.store.state;
    const { corners } = this;
    if (!draft) return false;
    if (this.closes(at)) return this.close();
    if (corners.some((each) => isSame(at, each))) return false;
    const first = draft.first ?? { body: under, at };
    this.store.set({ draft: { ...draft, first, corners: [...corners, [at[0], at[1]]] } });
    return true;
  }

  /** @returns {boolean} whether there was an outline to close */
  close() {
    const { draft } = this.store.state;
    const { corners } = this;
    if (!draft?.first || corners.length < 3) return false;
    const { body } = draft.first;
    this.store.set({ draft: { first: null, at: draft.at, words: "", bodies: [] } });
    this.closing(draft, (mount) => withOutline(mount, body, corners));
    return true;
  }

  /**
   * What is not taken stays in hand, to be mended.
   * @param {import("../core/store.js").Draft} draft @param {(mount: Mount) => Mount} make
   */
  async closing(draft, make) {
    const fault = await this.editor.propose(make);
    if (fault && this.store.state.tool === "outline" && !this.corners.length) this.store.set({ draft });
  }

  /** Take the last corner back. */
  back() {
    const { draft } = this.store.state;
    const corners = this.corners.slice(0, -1);
    if (draft) this.store.set({ draft: { ...draft, corners, first: corners.length ? draft.first : null } });
  }
}

/** @param {Point} one @param {Point} other */
function isSame(one, other) {
  return Math.hypot(one[0] - other[0], one[1] - other[1]) < SAME_MM;
}
