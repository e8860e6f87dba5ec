/**
 * The strip of the guided look, and the one-line greeting before it.
 * @module panels/firstlook
 */

import { LOOKS } from "../core/firstlook.js";
import { h } from "../values/shapes.js";
import { notices } from "./notices.js";

/** @param {import("../core/store.js").State} state */
export function firstLook(state) {
  const { look } = state;
  if (look === null) {
    if (state.greeted || state.canUndo || notices(state).length) return [];
    return [
      h("p", { key: "hello", class: "guide" }, [
        h("span", { key: "words" }, "Drag any joint and watch the numbers."),
        h("button", { key: "start", type: "button", "data-guide": "next" }, "show me around in a minute"),
        h("button", { key: "end", type: "button", "data-guide": "end", "aria-label": "no hints" }, "×"),
      ]),
    ];
  }
  return [
    h("p", { key: "look", class: `guide${state.looked ? " looked" : ""}` }, [
      h("strong", { key: "count" }, `${look + 1} of ${LOOKS.length}`),
      h("span", { key: "words" }, LOOKS[look].words),
      h(
        "button",
        { key: "next", type: "button", "data-guide": "next" },
        look + 1 < LOOKS.length ? (state.looked ? "next ✓" : "next") : "done",
      ),
      h("button", { key: "end", type: "button", "data-guide": "end", "aria-label": "end the tour" }, "×"),
    ]),
  ];
}
