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
import { met, strokesFor } from "./ends.js";

/** Newton's steps toward the heights asked for; two or three do. */
const MOST_TRIES = 8;

export class Side {
  /**
   * @param {"a"|"b"} name
   * @param {SVGSVGElement} svg
   * @param {Object} pair
   * @param {() => import("./ends.js").Heights} pair.asked
   * @param {() => import("../../values/view.js").View} pair.view
   * @param {(view: import("../../values/view.js").View) => void} pair.setView
   * @param {(side: Side) => void} pair.onStep
   */
  constructor(name, svg, pair) {
    this.name = name;
    this.pair = pair;
    this.sheet = new Sheet(svg);
    this.store = new Store(firstState());
    /** Strokes tried for the command and mount at hand. */
    this.tries = 0;
    this.live = new Live(
      `${location.protocol === "https:" ? "wss" : "ws"}://${location.host}/live`,
      (answer, question, newest) => {
        this.editor.answered(answer, question, newest);
        if (newest) this.aim();
      },
      (link) => link !== this.store.state.link && this.store.set({ link }),
    );
    this.editor = new Editor(this.store, this.live, pair.view);
    this.editor.onStep = () => pair.onStep(this);
    this.store.listen((state, before) => {
      if (state.mount !== before.mount) this.tries = 0;
    });
    this.listen();
  }

  /**
   * @param {any} mount
   * @param {string|null} shipped
   * @param {Record<string, number>} [command] where it stands until it is asked to follow
   */
  open(mount, shipped, command = {}) {
    this.editor.open(mount, { shipped, command });
  }

  /** Follow what is asked of the ends from here on. */
  follow() {
    this.tries = 0;
    if (!this.store.state.asking) this.aim();
  }

  /** Work the cylinders so that the ends come where they are asked to be, from what the newest readout says. */
  aim() {
    const { mount, answered, command } = this.store.state;
    const asked = this.pair.asked();
    if (!answered?.pose || this.tries >= MOST_TRIES) return;
    const level = !asked.left && !asked.right;
    const there = level ? !Object.values(command).some(Boolean) : met(answered, mount, asked);
    if (there || (this.tries > 0 && answered.pose.stopped)) return;
    this.tries += 1;
    this.store.set({ command: strokesFor(answered, mount, asked) });
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
