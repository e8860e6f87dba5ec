/**
 * The picked thing, above the sheet in the place of the title: where it is, to type, and what can be done with it.
 * @module panels/picked
 */

import { isRefused } from "../core/complaint.js";
import { splitJoint } from "../document/joints.js";
import { handle, isLoad } from "../document/mount.js";
import { paint } from "../core/paint.js";
import { h } from "../values/shapes.js";
import { outward, unit } from "../values/units.js";
import { field, fill, shown } from "./fields.js";
import { jointWords } from "../values/words.js";
import { SELECTION } from "./tools.js";

/** @typedef {import("../core/store.js").State} State */

/** @param {HTMLElement} place @param {State} state */
export function picked(place, state) {
  const what = state.picked ? handle(state.mount, state.picked) : undefined;
  place.hidden = !what;
  if (!what) {
    paint(place, []);
    return;
  }
  const name = unit("fine", state.system);
  const turning = what.name === "load/turn";
  paint(place, [
    h("header", { key: "head" }, [
      h("h2", { key: "name", title: what.label }, what.label),
      ...(what.member
        ? [
            h("button", { key: "more", type: "button", "data-tab": "inputs" }, "all its numbers"),
            h(
              "button",
              {
                key: "several",
                type: "button",
                "data-action": "several",
                "aria-pressed": state.several ? "true" : "false",
                title: "Pick several: each joint picked joins those picked before (Shift)",
              },
              "several",
            ),
            ...SELECTION.map(([action, words]) =>
              h("button", { key: action, type: "button", "data-action": action }, words),
            ),
          ]
        : []),
      h("button", { key: "close", type: "button", "data-action": "unpick", "aria-label": "let go" }, "×"),
    ]),
    h("div", { key: `places ${what.name}`, class: "places" }, [
      ...(turning
        ? [field("load/degrees", "direction, 90 is up", "angle", state.system, "load")]
        : coordinates(state, what, name)),
      ...(isLoad(what.name) ? [field("load/size", "size", "force", state.system, "load")] : []),
      ...(what.member
        ? [field(`${jointPlace(state, what)}.clearance`, "clearance", "error", state.system, what.label)]
        : []),
      ...(turning
        ? []
        : [
            h(
              "button",
              {
                key: "place",
                type: "button",
                "data-action": "place",
                "aria-pressed": state.placing ? "true" : "false",
                class: "place-button",
              },
              state.placing ? "now tap the sheet" : "tap where it should go",
            ),
          ]),
    ]),
    h(
      "p",
      { key: "facts", class: "only-spoken" },
      jointWords(what.name, state.answered, state.detail?.answer, state.system).join("; "),
    ),
  ]);
  ["x", "y"].forEach((axis, index) => {
    const input = /** @type {HTMLInputElement|null} */ (place.querySelector(`[data-coordinate="${axis}"]`));
    if (input && !isRefused(input)) shown(input, outward(what.at[index], "fine", state.system));
  });
  fill(place, state);
}

/** @param {State} state @param {import("../document/mount.js").Handle} what @param {string} name of the unit */
function coordinates(state, what, name) {
  return ["x", "y"].map((axis) =>
    h("label", { key: axis, class: "field" }, [
      h("span", { key: "label", class: "field-label" }, axis),
      h("input", {
        key: "input",
        type: "text",
        inputmode: "decimal",
        "data-coordinate": axis,
        "aria-label": `${axis} of ${what.label}, ${name}`,
        autocomplete: "off",
      }),
      h("span", { key: "unit", class: "field-unit" }, name),
    ]),
  );
}

/**
 * The place in the document of a picked joint.
 * @param {State} state
 * @param {import("../document/mount.js").Handle} what
 */
export function jointPlace(state, what) {
  const at = `members[${state.mount.members.indexOf(what.member)}]`;
  return what.member.ends ? `${at}.ends[${Number(splitJoint(what.name)[1]) - 1}]` : at;
}
