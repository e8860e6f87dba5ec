/**
 * The card of the picked thing: every field of it to type, and what the load and the play do there.
 * @module panels/picked
 */

import { isRefused } from "../complaint.js";
import { handle, jointOf } from "../mount.js";
import { h, paint } from "../svg.js";
import { amount, outward, unit } from "../units.js";
import { field, fill } from "./fields.js";
import { SELECTION } from "./tools.js";

/** @typedef {import("../store.js").State} State */

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
      h("h2", { key: "name" }, what.label),
      h("button", { key: "close", type: "button", "data-action": "unpick", "aria-label": "let go" }, "×"),
    ]),
    h("div", { key: `places ${what.name}`, class: "places" }, turning ? [field("load/degrees", "direction, 90 is up", "angle", state.system, "load")] : [
      ...["x", "y"].map((axis) =>
        h("label", { key: axis }, [
          h("span", { key: "label" }, axis),
          h("input", { key: "input", type: "text", inputmode: "decimal", "data-coordinate": axis, "aria-label": `${axis} of ${what.label}, ${name}`, autocomplete: "off" }),
          h("span", { key: "unit" }, name),
        ]),
      ),
      h("button", { key: "place", type: "button", "data-action": "place", "aria-pressed": state.placing ? "true" : "false", class: "place-button" }, state.placing ? "now tap the sheet" : "tap where it should go"),
    ]),
    ...(what.name.startsWith("load/") ? [h("div", { key: "load", class: "fields" }, [field("load/size", "size", "force", state.system, "load")])] : []),
    ...(what.member ? [
      h("div", { key: `clearance ${what.name}`, class: "fields" }, [field(`${jointPlace(state, what)}.clearance`, "clearance", "error", state.system, what.label)]),
      h("div", { key: "do", class: "tool-row" }, [
        h("button", { key: "more", type: "button", "data-tab": "inputs" }, "all its numbers"),
        ...SELECTION.map(([action, words]) => h("button", { key: action, type: "button", "data-action": action }, words)),
      ]),
    ] : []),
    ...jointLines(state, what).map((words, index) => h("p", { key: `line ${index}`, class: "said" }, words)),
  ]);
  ["x", "y"].forEach((axis, index) => {
    const input = /** @type {HTMLInputElement|null} */ (place.querySelector(`[data-coordinate="${axis}"]`));
    if (input && document.activeElement !== input && !isRefused(input)) input.value = outward(what.at[index], "fine", state.system);
  });
  fill(place, state);
}

/** The place in the document of a picked joint. @param {State} state @param {import("../mount.js").Handle} what */
export function jointPlace(state, what) {
  const at = `members[${state.mount.members.indexOf(what.member)}]`;
  return what.member.ends ? `${at}.ends[${Number(what.name.slice(-1)) - 1}]` : at;
}

/** @param {State} state @param {import("../mount.js").Handle} what */
function jointLines(state, what) {
  const answer = state.answered;
  const joint = jointOf(what.name);
  const force = answer?.forces?.[joint];
  if (!force) return [];
  const lines = [];
  const size = (/** @type {[number, number]} */ each) => amount(Math.hypot(each[0], each[1]), "force", state.system);
  if (force.load) lines.push(`carries ${size(force.load)} from the load${force.weight ? `, ${size(force.weight)} from the weight` : ""}`);
  else if (force.weight) lines.push(`carries ${size(force.weight)} from the weight`);
  if (force.use !== null) lines.push(`at most ${amount(force.worst, "force", state.system)}: ${Math.round(force.use * 100)} % of its rating`);
  const plays = ["left", "right"].map((end) => answer.budget[end].sources.find((/** @type {any} */ each) => each.id === joint && each.kind === "clearance"));
  if (plays[0]) {
    const [left, right] = plays.map((each) => amount(each.high, "error", state.system));
    const held = plays[0].play === "held" ? "; the weight holds it to one side" : plays[0].play === "turns over" ? "; the load turns it over" : "";
    lines.push(`its play moves the left end ±${left}, the right end ±${right}${held}`);
  }
  const allowed = state.detail?.answer.wear?.joints[joint];
  if (allowed) lines.push(`alone it may wear to ${amount(allowed, "error", state.system)}`);
  return lines;
}
