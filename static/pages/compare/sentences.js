/**
 * One plain sentence each way: in what A is the better, and in what B is, each cause once.
 * @module pages/compare/sentences
 */

import { h } from "../../values/shapes.js";
import { inTrade } from "../../values/units.js";
import { valueWords } from "./table.js";

/** @typedef {"a"|"b"} SideName */

/** @param {import("./table.js").Shown} shown @returns {import("../../values/shapes.js").Shape[]} */
export function sentences(shown) {
  return /** @type {const} */ (["a", "b"]).map((name) =>
    h("p", { key: name, class: "sentence", "data-sentence": name }, sentenceOf(shown, name)),
  );
}

/** @param {import("./table.js").Shown} shown @param {SideName} name */
export function sentenceOf({ found, system }, name) {
  const names = name === "a" ? found.a_better : found.b_better;
  const rows = found.causes
    .flatMap((cause) => cause.rows)
    .filter((row) => names.includes(row.name) && seen(row, system));
  const [mine, other] = name === "a" ? ["A", "B"] : ["B", "A"];
  if (!rows.length) return `Where ${mine} is better: in nothing that can be compared here.`;
  const alone = rows.some((row) => row.name === "moves");
  const told = rows.filter((row) => !(alone && row.name === "other"));
  const clauses = told.map((row) => clause(row, name, other, system));
  const fails = found[name].state === "fails" ? ` By itself ${mine} fails all the same.` : "";
  return `Where ${mine} is better: ${clauses.join("; ")}.${fails}`;
}

/**
 * Whether two numbers differ as they are shown: what nobody can see is no advantage.
 * @param {Compared} row @param {System} system
 */
export function seen(row, system) {
  return valueWords(row, row.a, system) !== valueWords(row, row.b, system);
}

/**
 * A number in which one is the better.
 * @param {Compared} row @param {SideName} name @param {string} other
 * @param {System} system
 */
export function clause(row, name, other, system) {
  const theirs = row[name === "a" ? "b" : "a"];
  if (row.name === "moves" && theirs === null) return `it corrects each end alone, which ${other} cannot`;
  if (row.name === "other") return "the other end stays while one is corrected";
  const named = inTrade(row.label, system);
  const label = named.slice(0, 1).toLowerCase() + named.slice(1);
  return `${label} ${valueWords(row, row[name], system)} against ${valueWords(row, theirs, system)}`;
}
