/**
 * What the server finds of the two: where they stand, worn, over their travel and over a run; asked for and shown.
 * @module pages/compare/findings
 */

import { mark, paint } from "../../core/paint.js";
import { answerOf } from "../../core/server.js";
import { Asking } from "./asking.js";
import { Later } from "./later.js";
import { sentences } from "./sentences.js";
import { causes } from "./table.js";
import { verdicts } from "./verdicts.js";
import { Worn } from "./worn.js";

const NAMES = /** @type {const} */ (["a", "b"]);

export class Findings {
  /** @param {<T extends Element>(selector: string) => T} find @param {() => void} changed */
  constructor(find, changed) {
    this.find = find;
    /** The newest comparison; null while there is none. @type {Comparison|null} */
    this.found = null;
    /** @type {Asking<import("./asking.js").Question, Comparison>} */
    this.asking = new Asking(
      (question) => answerOf("/compare", question),
      (found) => {
        this.found = found;
        changed();
      },
    );
    this.worn = new Worn(changed);
    this.later = new Later(find, changed);
  }

  /**
   * Ask for the comparison of what both show, and show the newest there is.
   * @param {import("./asking.js").Question} question
   * @param {{steady: boolean, refused: boolean, system: System}} how whether both numbers are there, or one is refused
   */
  show(question, { steady, refused, system }) {
    const { find, found, asking, worn, later } = this;
    if (steady) {
      asking.want(question);
      worn.want(question);
    }
    if (refused) asking.want(null);
    const mounts = [question.a.mount, question.b.mount];
    if (found) {
      const shown = { found, mounts, system };
      const each = verdicts(found, mounts, system);
      NAMES.forEach((name, index) => paint(find(`#verdict-${name}`), each[index]));
      paint(find("#sentences"), sentences(shown));
      paint(find("#table"), causes(shown));
    }
    paint(find("#worn"), worn.fields(found, system));
    const live = steady && asking.settled && worn.asking.settled;
    mark(find("#findings"), "data-state", live ? "live" : "waiting");
    if (live) later.want(question);
    const { end, rise } = question;
    later.show({ mounts, system, wanted: { end, rise } }, live);
  }
}
