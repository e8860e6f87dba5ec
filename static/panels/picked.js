/**
 * The picked thing, above the sheet in the place of the title: where it is, to type, and what can be done with it.
 * @module panels/picked
 */

import { splitJoint } from "../values/joint.js";
import { handle, isLoad } from "../document/mount.js";
import { directionOf } from "../document/direction.js";
import { lineOf } from "../document/construction.js";
import { cornerOf } from "../document/outlines.js";
import { h } from "../values/shapes.js";
import { outward, unit } from "../values/units.js";
import { field } from "./fields.js";
import { pickedDimension } from "./held.js";
import { pickedSpan } from "./span.js";
import { jointWords } from "../values/words.js";
import { SELECTION } from "./tools.js";

/** @typedef {import("../core/store.js").State} State */

/** What can be done at a corner of an outline. @type {[string, string][]} */
const CORNER = [
  ["add-corner", "add a corner after it"],
  ["delete", "take the corner out"],
  ["delete-outline", "delete the outline"],
];

/** What can be done with a construction line. @type {[string, string][]} */
const LINE = SELECTION.filter(([action]) => action !== "copy");

/** @param {State} state */
export function picked(state) {
  if (state.dimension !== null && state.mount.dimensions?.[state.dimension])
    return pickedDimension(state, state.dimension);
  const what = state.picked ? handle(state.mount, state.picked) : undefined;
  if (!what) return [];
  const name = unit("fine", state.system);
  const line = lineOf(what.name);
  const slide = directionOf(what.name);
  const turning = what.name === "load/turn";
  return [
    h("header", { key: "head" }, [
      h("h2", { key: "name", title: what.label }, what.label),
      ...(what.member
        ? [
            h("button", { key: "more", type: "button", "data-tab": "numbers" }, "all its numbers"),
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
      ...(cornerOf(what.name)
        ? CORNER.map(([action, words]) => h("button", { key: action, type: "button", "data-action": action }, words))
        : []),
      ...(line === null
        ? []
        : LINE.map(([action, words]) => h("button", { key: action, type: "button", "data-action": action }, words))),
      ...(what.member && state.tab === "improve" ? [lockButton(state, what.name)] : []),
      h("button", { key: "close", type: "button", "data-action": "unpick", "aria-label": "let go" }, "×"),
    ]),
    h("div", { key: `places ${what.name}`, class: "places" }, [
      ...(turning
        ? [field(state, "load/degrees", "direction, 90 is up", "angle", "load")]
        : slide !== null
          ? ["x", "y"].map((axis, index) =>
              field(state, `members[${slide}].direction[${index}]`, `runs ${axis}`, "ratio", what.label),
            )
          : coordinates(state, what, name)),
      ...(isLoad(what.name) ? [field(state, "load/size", "size", "force", "load")] : []),
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
      ...(line !== null && typeof state.mount.construction?.[line].angle === "number"
        ? [field(state, `construction[${line}].angle`, "angle", "angle", what.label)]
        : []),
      ...pickedSpan(state, what.name),
      ...(what.member ? [field(state, `${jointPlace(state, what)}.clearance`, "clearance", "error", what.label)] : []),
    ]),
    h(
      "p",
      { key: "facts", class: "only-spoken" },
      jointWords(what.name, state.answered, state.detail?.answer, state.system).join("; "),
    ),
  ];
}

/** Suggestions leave a locked joint as it is. @param {State} state @param {string} name */
function lockButton({ wishes: { locked } }, name) {
  const on = locked.includes(name);
  const attrs = { key: "lock", type: "button", "data-lock-joint": name, "aria-pressed": String(on) };
  return h("button", { ...attrs, title: "Locked: suggestions leave it as it is" }, on ? "locked" : "lock");
}

/** @param {State} state @param {import("../document/mount.js").Handle} what @param {string} name of the unit */
function coordinates(state, what, name) {
  return ["x", "y"].map((axis, index) =>
    h("label", { key: axis, class: "field" }, [
      h("span", { key: "label", class: "field-label" }, axis),
      h("input", {
        key: "input",
        type: "text",
        inputmode: "decimal",
        "data-coordinate": axis,
        "aria-label": `${axis} of ${what.label}, ${name}`,
        autocomplete: "off",
        value: outward(what.at[index], "fine", state.system),
      }),
      h("span", { key: "unit", class: "field-unit" }, name),
    ]),
  );
}

/**
 * The place in the document of a picked joint.
 * @param {State} state
 * @param {import("../document/mount.js").JointHandle} what
 */
export function jointPlace(state, what) {
  const at = `members[${state.mount.members.indexOf(what.member)}]`;
  return what.member.ends ? `${at}.ends[${Number(splitJoint(what.name)[1]) - 1}]` : at;
}
