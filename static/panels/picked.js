/**
 * The card of the picked joint: its place to type, and what the load and the play do there.
 * @module panels/picked
 */

import { handle, jointOf } from "../mount.js";
import { h, paint } from "../svg.js";
import { amount, outward, unit } from "../units.js";

/** @param {HTMLElement} place @param {import("../store.js").State} state */
export function picked(place, state) {
  const what = state.picked ? handle(state.mount, state.picked) : undefined;
  place.hidden = !what;
  if (!what) {
    paint(place, []);
    return;
  }
  const name = unit("fine", state.system);
  paint(place, [
    h("header", { key: "head" }, [
      h("h2", { key: "name" }, what.label),
      h("button", { key: "close", type: "button", "data-action": "unpick", "aria-label": "let go" }, "×"),
    ]),
    h("div", { key: "places", class: "places" }, [
      ...["x", "y"].map((axis) =>
        h("label", { key: axis }, [
          h("span", { key: "label" }, axis),
          h("input", { key: "input", type: "text", inputmode: "decimal", "data-coordinate": axis, "aria-label": `${axis} of ${what.label}, ${name}`, autocomplete: "off" }),
          h("span", { key: "unit" }, name),
        ]),
      ),
      h("button", { key: "place", type: "button", "data-action": "place", "aria-pressed": state.placing ? "true" : "false", class: "place-button" }, state.placing ? "now tap the sheet" : "tap where it should go"),
    ]),
    ...jointLines(state, what).map((words, index) => h("p", { key: `line ${index}`, class: "said" }, words)),
  ]);
  ["x", "y"].forEach((axis, index) => {
    const input = /** @type {HTMLInputElement} */ (place.querySelector(`[data-coordinate="${axis}"]`));
    if (document.activeElement !== input) {
      input.value = outward(what.at[index], "fine", state.system);
      input.removeAttribute("aria-invalid");
    }
  });
}

/** @param {import("../store.js").State} state @param {import("../mount.js").Handle} what */
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
    lines.push(`its play moves the left end ±${left}, the right end ±${right}`);
  }
  return lines;
}
