/**
 * The tool that sets construction lines and points.
 * @module sheet/liner
 */

import { constructionLines, footOn, withLine } from "../document/construction.js";
import { spanOf } from "../document/spans.js";

/** @typedef {readonly [number, number]} Point */

/** So near to a line or member a line is parallel to it, pixels. */
const NEAR_PX = 16;
const SAME_MM = 0.01;

export class Liner {
  /**
   * @param {import("../core/store.js").Store} store
   * @param {import("../core/editor.js").Editor} editor
   */
  constructor(store, editor) {
    this.store = store;
    this.editor = editor;
  }

  /** @param {Point} at mm */
  words(at) {
    const { lineSet, draft } = this.store.state;
    if (lineSet === "point") return "construction point";
    if (lineSet === "through") return draft?.first ? "line through here too" : "line through a first place";
    if (lineSet !== "parallel") return `${lineSet} line`;
    if (draft?.first) return "parallel line through here";
    return this.angleAt(at) === null ? "parallel to a rod, cylinder or line" : "parallel to this";
  }

  /** @param {Point} at mm @returns {boolean} whether it could be set */
  set(at) {
    const { lineSet, draft } = this.store.state;
    if (!draft) return false;
    if (lineSet === "point") return this.add(at);
    if (lineSet === "level" || lineSet === "plumb") return this.add(at, lineSet === "level" ? 0 : 90);
    if (lineSet === "through") {
      if (!draft.first) return this.begin(at);
      const { length, angle } = spanOf(draft.first.at, at);
      return length > SAME_MM && this.add(draft.first.at, angle);
    }
    if (draft.first) return this.add(at, draft.angle);
    const angle = this.angleAt(at);
    return angle !== null && this.begin(at, angle);
  }

  /** @param {Point} at @param {number} [angle] */
  begin(at, angle) {
    const { draft } = this.store.state;
    if (draft) this.store.set({ draft: { ...draft, first: { body: "frame", at }, angle } });
    return true;
  }

  /** @param {Point} at @param {number} [angle] degrees */
  add(at, angle) {
    this.store.set({ draft: { first: null, at, words: "", bodies: [] } });
    this.editor.change(withLine(this.store.state.mount, at, angle));
    return true;
  }

  /** Which way the line, rod or cylinder runs that lies there. @param {Point} at mm as drawn @returns {number|null} */
  angleAt(at) {
    const { mount, view } = this.store.state;
    const near = NEAR_PX / (view?.scale ?? 1);
    const lines = constructionLines(mount).map((line) => ({ angle: line.angle, away: distance(footOn(line, at), at) }));
    const members = mount.members.flatMap((each) => {
      if (!each.ends) return [];
      const [from, to] = each.ends.map((end) => end.at);
      const { length, angle } = spanOf(from, to);
      const foot = footOn({ at: from, angle }, at);
      return distance(foot, from) > length || distance(foot, to) > length ? [] : [{ angle, away: distance(foot, at) }];
    });
    const [nearest] = [...lines, ...members].sort((a, b) => a.away - b.away);
    return nearest && nearest.away < near ? nearest.angle : null;
  }
}

/** @param {Point} a @param {Point} b */
function distance(a, b) {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}
