/**
 * Keys for the whole page; those of the sheet's joints are with the gestures.
 * @module pages/sketch/keys
 */

import { beside } from "../../panels/tabs.js";

/** @type {Record<string, string>} */
const TOOL_KEYS = { p: "pin", r: "rod", c: "cylinder", s: "slide", m: "measure", h: "hold", o: "outline", l: "line" };

/** Those of the wall; a presenter's clicker sends page down and page up. @type {Record<string, string>} */
const WALL_KEYS = {
  n: "next",
  b: "back",
  q: "quiz",
  t: "lessons",
  pagedown: "next",
  pageup: "back",
  "shift+n": "next-step",
  "shift+b": "last-step",
};

/**
 * @param {import("../../core/store.js").Store} store
 * @param {import("../../sheet/drafter.js").Drafter} drafter
 * @param {(action: string) => void} act
 * @param {(action: string) => void} show what the buttons of the wall do
 */
export function listenToKeys(store, drafter, act, show) {
  document.addEventListener("keydown", (event) => {
    const target = /** @type {HTMLElement} */ (event.target);
    const typing = target instanceof HTMLInputElement && target.type !== "range";
    if (document.querySelector("dialog[open]")) return;
    const key = event.key.toLowerCase();
    if ((event.ctrlKey || event.metaKey) && (key === "z" || key === "y")) {
      if (typing) return;
      event.preventDefault();
      act(key === "y" || event.shiftKey ? "redo" : "undo");
      return;
    }
    if ((event.ctrlKey || event.metaKey) && key === "c" && !typing && !String(getSelection())) {
      act("copy");
      return;
    }
    if (event.key === "Escape" && store.state.demo.wall && !typing) {
      store.set(({ demo }) => ({ demo: { ...demo, wall: false } }));
      event.preventDefault();
      return;
    }
    if (event.key === "Escape" && store.state.boxing) {
      store.set({ boxing: false });
      event.preventDefault();
      return;
    }
    if (event.key === "Escape" && drafter.escape()) {
      event.preventDefault();
      return;
    }
    if (typing || target instanceof HTMLSelectElement || event.ctrlKey || event.metaKey || event.altKey) return;
    if (target.dataset?.tab && (event.key === "ArrowRight" || event.key === "ArrowLeft")) {
      const tab = beside(target.dataset.tab, event.key === "ArrowRight" ? 1 : -1);
      store.set({ tab });
      requestAnimationFrame(() => /** @type {HTMLElement|null} */ (document.querySelector(`#tab-${tab}`))?.focus());
    } else if (/^[1-9]$/.test(key) && !event.shiftKey && !store.state.tool)
      /** @type {HTMLElement|undefined} */ (
        document.querySelectorAll("#picker [data-mount]")[Number(key) - 1]
      )?.click();
    else if (key === "?") act("keys");
    else if (key === "f") act("fit");
    else if (key === "w") act("wall");
    else if (key === "u" && !event.shiftKey) act("steps");
    else if (key === "v") act(event.shiftKey ? "vary" : "variants");
    else if (key === "g" && !event.shiftKey) act("ghosts");
    else if (key === ".") act("next-variant");
    else if (key === ",") act("previous-variant");
    else if (store.state.demo.wall && WALL_KEYS[event.shiftKey ? `shift+${key}` : key])
      show(WALL_KEYS[event.shiftKey ? `shift+${key}` : key]);
    else if (key === "d" && event.shiftKey) act("duplicate");
    else if (key === "x" && event.shiftKey) act("mirror");
    else if (TOOL_KEYS[key] && !event.shiftKey) {
      drafter.take(TOOL_KEYS[key]);
      /** @type {SVGElement|null} */ (document.querySelector("#sheet"))?.focus({ preventScroll: true });
    } else return;
    event.preventDefault();
  });
}
