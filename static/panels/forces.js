/**
 * Forces at every joint and cylinder, speed and step.
 * @module panels/forces
 */

import { h } from "../values/shapes.js";
import { DASH, number, unit } from "../values/units.js";
import { jointName, messageWords, reasonFor } from "../values/words.js";

/** @param {import("../core/store.js").State} state */
export function forces(state) {
  const answer = state.answered;
  if (!answer?.forces) return [h("p", { key: "why", class: "said" }, `– ${reasonFor(state, "forces")}`)];
  const { system } = state;
  const size = (/** @type {[number, number]|null} */ each) =>
    each ? number(Math.hypot(...each), "force", system) : DASH;
  const reasons = ["forces.load", "forces.weight"].map((path) => answer.absent[path]).filter(Boolean);
  return [
    h(
      "button",
      { key: "show", type: "button", "data-action": "reactions", "aria-pressed": state.reactions ? "true" : "false" },
      "show as arrows on the sheet",
    ),
    ...reasons.map((words, index) =>
      h(
        "p",
        { key: `reason ${index}`, class: "said quiet" },
        `– ${index ? "weight" : "load"} ${messageWords(words, state.mount, system)}`,
      ),
    ),
    h(
      "p",
      { key: "sizes", class: "said quiet" },
      `Sizes only, in ${unit("force", system)}; forces that point apart partly cancel in “both”. Stall: the load ` +
        `grown until the first cylinder is at relief, if the port relief is set so.`,
    ),
    table(
      "joints",
      ["joint", `load, ${unit("force", system)}`, "weight", "both", "stall", "rated", "use"],
      Object.entries(answer.forces).map(([name, each]) => [
        jointName(state.mount, name),
        size(each.load),
        size(each.weight),
        size(each.together),
        each.stall === null ? DASH : number(each.stall, "force", system),
        each.rating === null ? DASH : number(each.rating, "force", system),
        each.use === null ? DASH : `${Math.round(each.use * 100)} %`,
      ]),
      Object.values(answer.forces).map((each) => each.use !== null && each.use > 1),
    ),
    table(
      "cylinders",
      ["cylinder", `load, ${unit("force", system)}`, "weight", unit("pressure", system), "side", "of relief"],
      Object.entries(answer.actuators).map(([name, each]) => [
        name,
        number(each.force, "force", system),
        number(each.weight_force, "force", system),
        each.pressure === null ? DASH : number(each.pressure, "pressure", system),
        each.side ?? DASH,
        each.relief_share === null ? DASH : `${Math.round(each.relief_share * 100)} %`,
      ]),
      Object.values(answer.actuators).map((each) => (each.relief_share ?? 0) > 1),
    ),
    h("h3", { key: "speed" }, "Speed and smallest step at the edge"),
    ...(answer.absent["actuators.speed"]
      ? [h("p", { key: "no speed", class: "said quiet" }, `– ${reasonFor(state, "actuators.speed")}`)]
      : [
          table(
            "speeds",
            [
              "cylinder",
              `left, ${unit("speed", system)}`,
              `right, ${unit("speed", system)}`,
              `left, ${unit("error", system)}`,
              `right, ${unit("error", system)}`,
            ],
            Object.entries(answer.actuators).flatMap(([name, each]) =>
              /** @type {const} */ (["lengthen", "shorten"]).map((way) => [
                `${name}, ${way}s`,
                .../** @type {const} */ (["left", "right"]).map((end) =>
                  number(each.speed?.[way][end], "speed", system, { sign: true }),
                ),
                .../** @type {const} */ (["left", "right"]).map((end) =>
                  number(each.step?.[way][end], "error", system, { sign: true }),
                ),
              ]),
            ),
            [],
          ),
        ]),
  ];
}

/** @param {string} key @param {string[]} heads @param {string[][]} rows @param {boolean[]} marked */
function table(key, heads, rows, marked) {
  return h("table", { key, "data-table": key }, [
    h("thead", { key: "head" }, [
      h(
        "tr",
        { key: "row" },
        heads.map((words) => h("th", { key: words, scope: "col" }, words)),
      ),
    ]),
    h(
      "tbody",
      { key: "body" },
      rows.map((cells, index) =>
        h(
          "tr",
          { key: cells[0], class: marked[index] ? "over" : null },
          cells.map((words, column) => h(column ? "td" : "th", { key: column, scope: column ? null : "row" }, words)),
        ),
      ),
    ),
  ]);
}
