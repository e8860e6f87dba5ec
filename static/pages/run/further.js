/**
 * What costs a run most, and each mount at its own best: a table each.
 * @module pages/run/further
 */

import { h } from "../../values/shapes.js";
import { DASH, amount } from "../../values/units.js";
import { vocabulary } from "../../values/vocabulary.js";
import { seconds } from "./words.js";

/** @typedef {{name: "a"|"b", costs: RunCost[]|null, best: RunBest[]|null, mount: Mount|null}} Side */

/** @param {number} before @param {number} after */
function saved(before, after) {
  const share = before ? Math.round((100 * (after - before)) / before) : 0;
  return share === 0 ? "no change" : `${share > 0 ? "+" : "−"}${Math.abs(share)}\u00a0%`;
}

/** @param {RunCost} cost */
function time({ time_to_grade: after, time_before: before }) {
  if (before === null) return after === null ? DASH : `never: now ${seconds(after)}`;
  return after === null ? "never" : saved(before, after);
}

/** @param {Side[]} sides @param {System} system @returns {Shape[]} */
export function costTable(sides, system) {
  return sides.flatMap(({ name, costs, mount }) => {
    if (!mount) return [];
    if (!costs) return [h("p", { key: `${name} waits`, class: "quiet" }, `${name.toUpperCase()}: working it out …`)];
    const rows = costs.map((cost) =>
      h("tr", { key: cost.what }, [
        h("th", { key: "what", scope: "row" }, what(cost, system)),
        h("td", { key: "time" }, time(cost)),
        h("td", { key: "rms" }, saved(cost.rms_before, cost.rms)),
      ]),
    );
    return [
      h("table", { key: name, class: "ranked", "data-side": name }, [
        h("caption", { key: "caption" }, [
          h("span", { key: "tag", class: "side-tag" }, name.toUpperCase()),
          h("span", { key: "words" }, "what would change with"),
        ]),
        h("thead", { key: "head" }, [
          h("tr", {}, [
            h("td", { key: "what" }),
            h("th", { key: "time", scope: "col" }, "time to grade"),
            h("th", { key: "rms", scope: "col" }, "rms"),
          ]),
        ]),
        h("tbody", { key: "body" }, rows),
      ]),
    ];
  });
}

/** @param {RunCost} cost @param {System} system */
function what(cost, system) {
  if (cost.value === null || !cost.measure) return "both cylinders worked together";
  return `half the ${cost.what} of ${amount(cost.value, cost.measure, system)}`;
}

/** @param {Side[]} sides @param {System} system @returns {Shape[]} */
export function bestTable(sides, system) {
  const shown = sides.filter(({ mount }) => mount);
  if (shown.some(({ best }) => !best)) return [h("p", { key: "waits", class: "quiet" }, "Trying settings …")];
  const ways = shown[0]?.best ?? [];
  return [
    h("table", { key: "best", class: "ranked" }, [
      h("caption", { key: "caption" }, startsWords(system)),
      h("thead", { key: "head" }, [
        h("tr", {}, [
          h("td", { key: "way" }),
          ...shown.map(({ name }) => h("th", { key: name, scope: "col" }, name.toUpperCase())),
        ]),
      ]),
      h(
        "tbody",
        { key: "body" },
        ways.map(({ valve, way }, index) =>
          h("tr", { key: `${valve} ${way}` }, [
            h("th", { key: "way", scope: "row" }, `${valve}, ${way}`),
            ...shown.map(({ name, best }) =>
              h("td", { key: name, "data-best": name }, quickest(best?.[index], system)),
            ),
          ]),
        ),
      ),
    ]),
  ];
}

/** What the settings had to do. @param {System} system */
function startsWords(system) {
  const { starts, off } = vocabulary.tuning;
  return `quickest settings that still come to rest from ${starts} starts of ${amount(off, "error", system)}`;
}

/** @param {RunBest|undefined} found @param {System} system */
function quickest(found, system) {
  if (!found || found.time_to_grade === null || found.setting === null) return "never rests";
  const quantity = found.valve === "on/off" ? "flow" : "rate";
  return `${seconds(found.time_to_grade)} at ${amount(found.setting, quantity, system)}`;
}
