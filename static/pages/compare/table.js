/**
 * The numbers of both mounts cause by cause, each with which is the better, by how much, or why neither is said to be.
 * @module pages/compare/table
 */

import { filled } from "../../values/messages.js";
import { h } from "../../values/shapes.js";
import { DASH, amount, inTrade, times } from "../../values/units.js";
import { jointName, messageWords } from "../../values/words.js";

/** @typedef {import("../../values/shapes.js").Shape} Shape */
/** @typedef {{found: Comparison, mounts: Mount[], system: System}} Shown */

/** @param {Shown} shown @returns {Shape[]} */
export function causes(shown) {
  return [
    h("table", { key: "table", class: "comparison" }, [
      h("thead", { key: "head" }, [
        h("tr", { key: "row" }, [
          h("th", { key: "what", scope: "col" }, "At this position"),
          h("th", { key: "a", scope: "col", class: "of-side" }, "A"),
          h("th", { key: "b", scope: "col", class: "of-side" }, "B"),
          h("th", { key: "words", scope: "col" }, "one to the other"),
        ]),
      ]),
      ...shown.found.causes.map((cause) =>
        h("tbody", { key: cause.name, "data-cause": cause.name }, [
          h("tr", { key: "title" }, [
            h("th", { key: "t", scope: "rowgroup", colspan: 4, class: "cause" }, titleOf(cause, shown)),
          ]),
          ...cause.rows.map((row) => line(row, shown)),
        ]),
      ),
    ]),
  ];
}

/** @param {CauseCompared} cause @param {Shown} shown */
function titleOf(cause, { found, system }) {
  const asked = found.corrections[0] ?? found.corrections[1];
  if (!asked || !cause.rows.some((each) => each.name === "oil" || each.name === "time")) return cause.title;
  const rise = amount(Math.abs(asked.rise), "error", system);
  return `${cause.title} (correction: ${asked.end} end ${rise} ${asked.rise < 0 ? "down" : "up"})`;
}

/** @param {Compared} row @param {Shown} shown */
function line(row, shown) {
  return h("tr", { key: row.name, "data-row": row.name }, [
    h("th", { key: "what", scope: "row" }, inTrade(row.label, shown.system)),
    cell(row, "a", shown),
    cell(row, "b", shown),
    h("td", { key: "words", "data-ratio": row.name, "data-better": row.better ?? "" }, ratioWords(row, shown)),
  ]);
}

/** @param {Compared} row @param {"a"|"b"} name @param {Shown} shown */
function cell(row, name, { mounts, system }) {
  const index = name === "a" ? 0 : 1;
  const [value, missing, path] = [row[name], row.missing[index], row.paths[index]];
  const about = row.about[index];
  const why = missing ? messageWords(missing, mounts[index], system) : "";
  const joint = row.name === "joint-force" ? jointName(mounts[index], about) : about;
  return h(
    "td",
    {
      key: name,
      class: `of-side ${row.better === name ? "ahead" : ""}`,
      title: (value === null ? why : joint) || null,
    },
    [
      h(
        "output",
        {
          key: "value",
          "data-compare": row.name,
          "data-side": name,
          "data-value": value ?? "",
          "data-path": path.length && value !== null ? JSON.stringify(path) : null,
        },
        valueWords(row, value, system),
      ),
    ],
  );
}

/** @param {Compared} row @param {number|null} value @param {System} system */
export function valueWords(row, value, system) {
  if (value === null) return DASH;
  if (row.quantity === "count") return String(value);
  const size = row.signed ? value : Math.abs(value);
  return amount(size, row.quantity, system, { sign: row.signed && row.quantity === "error" });
}

/** @param {Compared} row @param {Pick<Shown, "mounts"|"system">} shown */
export function ratioWords(row, { mounts, system }) {
  const say = (/** @type {import("../../values/messages.js").Sentence} */ message, /** @type {number} */ index) =>
    messageWords(message, mounts[index], system);
  const sayOfBoth = (/** @type {import("../../values/messages.js").Sentence} */ message) =>
    filled(message, system, (joint) => jointName(mounts[jointName(mounts[0], joint) === joint ? 1 : 0], joint));
  const [lackA, lackB] = row.missing;
  if (lackA && lackB) {
    const [a, b] = [say(lackA, 0), say(lackB, 1)];
    return a === b ? `neither: ${a}` : `A: ${a}; B: ${b}`;
  }
  if (lackA) return `A: ${say(lackA, 0)}`;
  if (lackB) return `B: ${say(lackB, 1)}`;
  if (row.why) return `not ranked: ${sayOfBoth(row.why)}`;
  if (row.better === null) return "";
  if (row.better === "same") return "the same";
  if (row.quantity === "count")
    return `${row.better.toUpperCase()} has ${Math.abs(Number(row.a) - Number(row.b))} fewer`;
  const [a, b] = [Math.abs(Number(row.a)), Math.abs(Number(row.b))];
  if (row.times === null) return `${a > b ? "B" : "A"} has none`;
  const opposite = row.signed && Number(row.a) * Number(row.b) < 0 ? ", the other way" : "";
  return `${a > b ? "A" : "B"} has ${timesWords(row.times)} ${row.noun}${opposite}`;
}

/** @param {number} ratio above one */
export function timesWords(ratio) {
  if (ratio < 1.095) return `${((ratio - 1) * 100).toFixed(ratio < 1.0095 ? 1 : 0)} % more of`;
  return ratio >= 1000 ? "more than 1000 times" : times(ratio);
}
