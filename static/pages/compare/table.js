/**
 * The table of headline numbers of two mounts, with the ratio between them in words.
 * @module pages/compare/table
 */

import { reasonFor } from "../../values/words.js";
import { h } from "../../values/shapes.js";
import { DASH, amount } from "../../values/units.js";
import { unlike } from "./differences.js";
import { ROWS, numberOf } from "./numbers.js";
import { compared, tally } from "./ratio.js";

/** @typedef {import("../../core/store.js").State} State */

const BEYOND_RELIEF = "beyond-relief";
/** What does not show in a reading to a hundredth. */
const UNSEEN_MM = 0.005;
/** The end whose dial a row reads. @type {Record<string, "left"|"right">} */
const DIALS = { "dial-left": "left", "dial-right": "right" };

/** @type {Record<string, string>} */
const GROUP_NAMES = {
  mass: "mass",
  weights: "weights of bodies",
  tyres: "tyres",
  lugs: "lug stiffness",
  load: "load",
  oil: "oil",
  valve: "valve",
  sensors: "sensors",
  allowances: "allowances",
  clearances: "joint clearances",
  blade: "blade",
};

/** @param {State} a @param {State} b @returns {import("../../values/shapes.js").Shape[]} */
export function comparison(a, b) {
  const differing = unlike(a.mount, b.mount);
  const rows = ROWS.map((row) => {
    const sides = [a, b].map((state) => ({ ...numberOf(row, state.answered), why: reasonFor(state, row.absent) }));
    const off = row.hangs.filter((group) => differing.has(group)).map((group) => GROUP_NAMES[group]);
    return { row, sides, found: notRanked(row, [a, b]) ?? honest(row, [a, b], compared(row, sides[0], sides[1], off)) };
  });
  const sum = tally(rows.map(({ row, found }) => ({ label: row.label, better: found.better })));
  return [
    h("table", { key: "table", class: "comparison" }, [
      h("thead", { key: "head" }, [
        h("tr", { key: "row" }, [
          h("th", { key: "what", scope: "col" }, "At this position"),
          h("th", { key: "a", scope: "col", class: "of-side" }, "A"),
          h("th", { key: "b", scope: "col", class: "of-side" }, "B"),
          h("th", { key: "words", scope: "col" }, "one to the other"),
          h("th", { key: "better", scope: "col", class: "better" }, "better"),
        ]),
      ]),
      h(
        "tbody",
        { key: "body" },
        rows.map(({ row, sides, found }) =>
          h("tr", { key: row.name, "data-row": row.name }, [
            h("th", { key: "what", scope: "row" }, row.label),
            ...sides.map((side, index) => cell(row, side, index ? "b" : "a", a.system)),
            h("td", { key: "words", "data-ratio": row.name }, found.words),
            h("td", { key: "better", class: "better", "data-better": row.name }, betterWords(found.better)),
          ]),
        ),
      ),
    ]),
    h("p", { key: "tally", class: "said tally", id: "tally" }, sum),
  ];
}

/**
 * Why a number that hangs on the load is not ranked: a mount whose relief opens first, or a side that nothing holds.
 * @param {import("./numbers.js").Row} row @param {State[]} states
 * @returns {import("./ratio.js").Compared|null}
 */
function notRanked(row, states) {
  if (!row.hangs.includes("load")) return null;
  const beyond = ["A", "B"].filter(
    (_, index) => states[index].answered?.absent["budget.inside"]?.code === BEYOND_RELIEF,
  );
  if (beyond.length)
    return {
      words: `not ranked: the relief valve of ${beyond.join(" and ")} opens before the load is on`,
      better: null,
    };
  const end = DIALS[row.name];
  const unsure = ["A", "B"].filter((_, index) => end && (states[index].answered?.dial?.unsure[end] ?? 0) >= UNSEEN_MM);
  if (!unsure.length) return null;
  return { words: `not ranked: in ${unsure.join(" and ")} it hangs on a side that nothing holds`, better: null };
}

/**
 * No praise for a coupling of none where one of the ends can never be corrected alone.
 * @param {import("./numbers.js").Row} row @param {State[]} states @param {import("./ratio.js").Compared} found
 * @returns {import("./ratio.js").Compared}
 */
function honest(row, states, found) {
  if (row.name !== "coupling" || found.better === null || found.better === "same") return found;
  const better = states[found.better === "a" ? 0 : 1];
  if (better.answered?.coupling?.moves) return found;
  return { words: `${found.words}, but cannot correct each end alone`, better: null };
}

/** @param {"a"|"b"|"same"|null} better */
function betterWords(better) {
  return better === null ? DASH : better === "same" ? "same" : better.toUpperCase();
}

/**
 * @param {import("./numbers.js").Row} row
 * @param {{value: number|null, path: (string|number)[]|null, about: string, why: string}} side
 * @param {"a"|"b"} name @param {import("../../values/units.js").System} system
 */
function cell(row, side, name, system) {
  return h("td", { key: name, class: "of-side", title: side.value === null ? side.why : side.about || null }, [
    h(
      "output",
      {
        key: "value",
        "data-compare": row.name,
        "data-side": name,
        "data-value": side.value ?? "",
        "data-path": side.path && row.quantity !== "count" ? JSON.stringify(side.path) : null,
      },
      shown(row, side.value, system),
    ),
  ]);
}

/**
 * @param {import("./numbers.js").Row} row
 * @param {number|null} value
 * @param {import("../../values/units.js").System} system
 */
function shown(row, value, system) {
  if (value === null) return DASH;
  if (row.quantity === "count") return String(value);
  const size = row.shown === "size" ? Math.abs(value) : value;
  return amount(size, row.quantity, system, { sign: row.shown === "signed" && row.quantity === "error" });
}
