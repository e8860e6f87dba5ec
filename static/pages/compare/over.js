/**
 * Both mounts over their whole travel: each against its tolerance first, then one sentence each way, then the numbers.
 * @module pages/compare/over
 */

import { asSentence } from "../../values/messages.js";
import { h } from "../../values/shapes.js";
import { whereWords } from "../../values/travel.js";
import { DASH, amount } from "../../values/units.js";
import { messageWords } from "../../values/words.js";
import { clause, seen } from "./sentences.js";
import { ratioWords, valueWords } from "./table.js";
import { SIGNS, bar, scaleOf } from "./verdicts.js";

/** @typedef {import("../../values/shapes.js").Shape} Shape */
/** @typedef {{found: ComparisonOver, mounts: Mount[], system: System}} ShownOver */

const NAMES = /** @type {const} */ (["a", "b"]);

/** @param {ShownOver} shown @returns {Shape[]} */
export function overShapes(shown) {
  const both = NAMES.map((name) => shown.found[name]);
  const most = scaleOf(both);
  return [
    h("h2", { key: "head", class: "part-head" }, "Over the whole travel of each"),
    ...NAMES.map((name, index) =>
      h("div", { key: `verdict ${name}`, class: "verdict", "data-over": name }, [
        verdictLine(both[index], name, shown.mounts[index], shown.system),
        ...(both[index].end ? [bar(both[index], most, shown.system)] : []),
        h("p", { key: "more", class: "said flips" }, moreWords(both[index], shown.mounts[index], shown.system)),
      ]),
    ),
    h(
      "div",
      { key: "sentences", class: "sentences" },
      NAMES.map((name) => h("p", { key: name, class: "sentence", "data-over-sentence": name }, better(shown, name))),
    ),
    table(shown),
  ];
}

/** @param {OverVerdict} verdict @param {"a"|"b"} name @param {Mount} mount @param {System} system */
function verdictLine(verdict, name, mount, system) {
  const why = verdict.why.map(({ message, command }) => {
    const where = command ? ` (${whereWords(verdict, command, system)})` : "";
    return `${asSentence(messageWords(message, mount, system))}${where}.`;
  });
  return h("p", { key: "verdict", class: `verdict-line ${verdict.state.replace(" ", "-")}` }, [
    h("strong", { key: "state", class: "verdict-state", "data-over-verdict": name }, [
      h("span", { key: "sign", class: "sign", "aria-hidden": "true" }, SIGNS[verdict.state]),
      h("span", { key: "word" }, ` ${name.toUpperCase()} ${verdict.state}`),
    ]),
    h("span", { key: "why" }, ` ${why.join(" ")}`),
  ]);
}

/**
 * As drawn, how much of it is inside, how far the ends go, and what is out of reach.
 * @param {OverVerdict} verdict @param {Mount} mount @param {System} system
 */
function moreWords({ drawn, inside, ends, short }, mount, system) {
  const words = [];
  if (drawn !== null) words.push(`As drawn ${amount(drawn, "error", system)}.`);
  if (inside !== null) words.push(`Inside on ${share(inside)} of the travel.`);
  const ways = Object.entries(ends).map(
    ([end, { low, high }]) => `${end} end ${amount(low, "length", system)} to ${signed(high, system)}`,
  );
  if (ways.length) words.push(`It takes the ${ways.join(", the ")}.`);
  words.push(...short.map((each) => `${asSentence(messageWords(each, mount, system))}.`));
  return words.join(" ");
}

/** @param {number} value mm @param {System} system */
function signed(value, system) {
  return amount(value, "length", system, { sign: true });
}

/** A share with no more said than the grid knows; never all of it while some is missing. @param {number} value */
function share(value) {
  const percent = value > 0 && value < 1 ? Math.min(Math.max(100 * value, 0.1), 99.9) : 100 * value;
  return `${percent === 0 || percent === 100 ? percent.toFixed(0) : percent.toFixed(1)}\u00a0%`;
}

/** @param {ShownOver} shown @param {"a"|"b"} name */
function better({ found, system }, name) {
  const names = name === "a" ? found.a_better : found.b_better;
  const rows = found.causes
    .flatMap((cause) => cause.rows)
    .filter((row) => names.includes(row.name) && seen(row, system));
  const [mine, other] = name === "a" ? ["A", "B"] : ["B", "A"];
  if (!rows.length) return `Over the travel ${mine} is better in nothing that can be compared here.`;
  const fails = found[name].state === "fails" ? ` By itself ${mine} fails on its travel all the same.` : "";
  const clauses = rows.map((row) => clause(row, name, other, system));
  return `Over the travel ${mine} is better: ${clauses.join("; ")}.${fails}`;
}

/** @param {ShownOver} shown */
function table(shown) {
  return h("table", { key: "table", class: "comparison over-table" }, [
    h("thead", { key: "head" }, [
      h("tr", { key: "row" }, [
        h("th", { key: "what", scope: "col" }, "At the most, each on its own travel"),
        h("th", { key: "a", scope: "col", class: "of-side" }, "A"),
        h("th", { key: "where a", scope: "col" }, "A with"),
        h("th", { key: "b", scope: "col", class: "of-side" }, "B"),
        h("th", { key: "where b", scope: "col" }, "B with"),
        h("th", { key: "words", scope: "col" }, "one to the other"),
      ]),
    ]),
    h(
      "tbody",
      { key: "body" },
      shown.found.causes.flatMap((cause) => cause.rows).map((row) => line(row, shown)),
    ),
  ]);
}

/** @param {ComparedOver} row @param {ShownOver} shown */
function line(row, shown) {
  return h("tr", { key: row.name, "data-row": row.name }, [
    h("th", { key: "what", scope: "row" }, row.label),
    ...NAMES.flatMap((name, index) => cells(row, name, index, shown)),
    h("td", { key: "words", "data-ratio": row.name, "data-better": row.better ?? "" }, ratioWords(row, shown)),
  ]);
}

/** @param {ComparedOver} row @param {"a"|"b"} name @param {number} index @param {ShownOver} shown */
function cells(row, name, index, { found, mounts, system }) {
  const [value, missing, command] = [row[name], row.missing[index], row.commands[index]];
  const why = missing ? messageWords(missing, mounts[index], system) : "";
  return [
    h(
      "td",
      {
        key: name,
        class: `of-side ${row.better === name ? "ahead" : ""}`,
        title: (value === null ? why : row.about[index]) || null,
      },
      [
        h(
          "output",
          { key: "value", "data-compare": row.name, "data-side": name, "data-value": value ?? "" },
          valueWords(row, value, system),
        ),
      ],
    ),
    h("td", { key: `where ${name}`, class: "where" }, command ? whereWords(found[name], command, system) : DASH),
  ];
}
