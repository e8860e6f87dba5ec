/**
 * One of the two mounts: its own state, drawing and line to the server. It follows the command at the ends by itself.
 * @module pages/compare/side
 */

import { listen } from "../../sheet/gestures.js";
import { Editor } from "../../core/editor.js";
import { jointGestures } from "../../sheet/jointgestures.js";
import { Live } from "../../core/live.js";
import { Sheet } from "../../sheet/sheet.js";
import { Store, firstState } from "../../core/store.js";

export class Side {
  /**
   * @param {"a"|"b"} name
   * @param {SVGSVGElement} svg
   * @param {Object} pair
   * @param {() => import("../../document/link.js").Heights} pair.asked
   * @param {() => import("../../values/view.js").View} pair.view
   * @param {(view: import("../../values/view.js").View) => void} pair.setView
   * @param {(side: Side) => void} pair.onStep
   */
  constructor(name, svg, pair) {
    this.name = name;
    this.pair = pair;
    this.sheet = new Sheet(svg);
    this.store = new Store(firstState());
    this.live = new Live(
      `${location.protocol === "https:" ? "wss" : "ws"}://${location.host}/live`,
      (answer, question, newest) => {
        this.editor.answered(answer, question, newest);
        if (newest) this.reached(answer);
      },
      (link) => link !== this.store.state.link && this.store.set({ link }),
    );
    this.editor = new Editor(this.store, this.live, pair.view);
    this.editor.onStep = () => pair.onStep(this);
    this.editor.ends = pair.asked;
    this.listen();
  }

  /**
   * @param {Mount} mount
   * @param {string|null} shipped
   * @param {Record<string, number>} [command] from where it is brought to what is asked of the ends
   */
  open(mount, shipped, command = {}) {
    this.editor.open(mount, { shipped, command });
  }

  /** Stand where the cylinders were worked to. @param {LiveAnswer|LiveRefusal} answer */
  reached({ reach = null, readout }) {
    const worked = Object.entries(readout?.pose?.command ?? {}).filter(([, move]) => move);
    this.store.set({ reach, command: Object.fromEntries(worked) });
  }

  /** Follow what is asked of the ends now. */
  follow() {
    this.editor.ask();
  }

  /** "live" once the numbers belong to what is drawn and the ends are where they can be brought. */
  get state() {
    const { link, refusal, answered, asking } = this.store.state;
    if (link === "offline") return "offline";
    if (refusal || (answered && answered.mobility.state !== "located")) return "stale";
    return asking || link === "waiting" || !answered ? "waiting" : "live";
  }

  listen() {
    const { store, editor, sheet, pair } = this;
    listen(sheet, {
      ...jointGestures(store, editor),
      tool: () => null,
      onPick: (name) => editor.pick(name),
      onTap: () => false,
      onOver: () => {},
      onSet: () => {},
      onCross: () => {},
      onFrame: () => {},
      onPan: (dx, dy) => pair.setView(pair.view().shifted(dx, dy)),
      onZoom: (at, factor) => pair.setView(pair.view().zoomed(at, factor)),
      onDelete: () => {},
    });
  }
}
