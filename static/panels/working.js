/**
 * The working: the sum behind every number of one cylinder and one end, step by step.
 * @module panels/working
 */

import { filled } from "../values/messages.js";
import { reasonFor } from "../values/words.js";
import { splitJoint } from "../values/joint.js";
import { cylinders, hues } from "../document/mount.js";
import { h } from "../values/shapes.js";

/** @typedef {import("../values/shapes.js").Shape} Shape */

const MOST_ROWS = 8;

/** @param {import("../core/store.js").State} state */
export function working(state) {
  const names = cylinders(state.mount).map((each) => each.id);
  if (!names.length) return [h("p", { key: "why", class: "said quiet" }, "– this mount has no cylinder")];
  if (!state.answered?.budget) return [h("p", { key: "why", class: "said quiet" }, `– ${reasonFor(state, "budget")}`)];
  const tones = hues(state.mount);
  const found = state.working;
  const head = h("div", { key: "head", class: "working-head" }, [
    h(
      "div",
      { key: "cylinders", class: "pair", role: "group", "aria-label": "cylinder of the working" },
      names.map((/** @type {string} */ name) =>
        h(
          "button",
          {
            key: name,
            type: "button",
            class: `working-choice hue-${tones.get(name)}`,
            "data-choose": name,
            "aria-pressed": state.chosen === name ? "true" : "false",
          },
          name,
        ),
      ),
    ),
    h(
      "div",
      { key: "ends", class: "pair", role: "group", "aria-label": "end of the working" },
      ["left", "right"].map((end) =>
        h(
          "button",
          {
            key: end,
            type: "button",
            "data-action": end === state.end ? null : "swap-end",
            "aria-pressed": end === state.end ? "true" : "false",
          },
          `${end} end`,
        ),
      ),
    ),
  ]);
  if (!found) return [head, h("p", { key: "wait", class: "said quiet" }, "working it out…")];
  const tone = `hue-${tones.get(found.cylinder) ?? 7}`;
  return [
    head,
    h(
      "div",
      {
        key: "steps",
        class: `steps ${tone} ${found.holds ? "" : "waits"}`,
        "aria-busy": found.holds ? "false" : "true",
      },
      stepsOf(found.answer),
    ),
  ];
}

/** @type {WeakMap<DrawnWorking, Shape[]>} */
const made = new WeakMap();

/** The steps of an answer, made once: while it is shown nothing of it is painted again. @param {DrawnWorking} answer */
function stepsOf(answer) {
  let shapes = made.get(answer);
  if (!shapes) {
    const list = answer.steps.map((each, index) => step(each, index, answer.system));
    shapes = answer.reason
      ? [h("p", { key: "why", class: "said quiet" }, `– ${filled(answer.reason, answer.system)}`)]
      : list;
    made.set(answer, /** @type {Shape[]} */ (shapes));
  }
  return /** @type {Shape[]} */ (shapes);
}

/** @param {DrawnStep} each @param {number} index @param {System} system */
function step(each, index, system) {
  const title = h("h3", { key: "title" }, `${index + 1}  ${each.title}`);
  if (each.reason)
    return h("section", { key: each.key, class: "step", "data-step": each.key }, [
      title,
      h("p", { key: "why", class: "said quiet" }, `– ${filled(each.reason, system)}`),
    ]);
  return h(
    "section",
    { key: each.key, class: "step", "data-step": each.key, "data-exact": each.exact ? "true" : "false" },
    [
      title,
      h("p", { key: "words", class: "said" }, each.words),
      ...(each.matrix
        ? [
            h("div", { key: "matrix", class: "formula-room", role: "group", "aria-label": "table of equations" }, [
              each.matrix,
            ]),
          ]
        : []),
      ...each.lines.map(line),
      ...(each.table ? [table(each.title, each.table)] : []),
      symbols(each),
    ],
  );
}

/** @param {DrawnLine} each */
function line(each) {
  return h("div", { key: `line ${each.symbol}`, class: "line", "data-line": each.symbol }, [
    h("div", { key: "formula", class: "formula-room", role: "group", "aria-label": each.meaning }, [each.formula]),
    h("div", { key: "numbers", class: "numbers" }, [
      ...(each.substituted
        ? [
            h(
              "div",
              { key: "put in", class: "formula-room", role: "group", "aria-label": `${each.meaning}, numbers put in` },
              [each.substituted],
            ),
          ]
        : []),
      h(
        "output",
        {
          key: "value",
          title: each.meaning,
          "data-path": each.path && JSON.stringify(each.path),
          "data-value": each.result.value,
        },
        `= ${each.result.shown}`,
      ),
    ]),
  ]);
}

/** @param {string} title @param {DrawnTable} table */
function table(title, { columns, rows }) {
  const head = h("thead", { key: "head" }, [
    h("tr", { key: "row" }, [
      h("td", { key: "label" }, ""),
      ...columns.map((each) =>
        h("th", { key: each.title, scope: "col" }, [
          h("span", { key: "title" }, `${each.title} `),
          ...(each.symbol ? [each.symbol] : []),
          h("span", { key: "unit" }, each.unit ? ` ${each.unit}` : ""),
        ]),
      ),
    ]),
  ]);
  const body = rows.map((row) =>
    h("tr", { key: row.label, class: row.place ? "highlights" : null, "data-row": "", "data-highlight": row.label }, [
      h("th", { key: "label", scope: "row" }, rowWords(row.label)),
      ...row.cells.map((cell, index) =>
        h(
          "td",
          {
            key: index,
            "data-value": cell.value,
            "data-path": row.path && index === row.cells.length - 1 ? JSON.stringify(row.path) : null,
          },
          cell.shown,
        ),
      ),
    ]),
  );
  const whole = h("table", { key: "table" }, [head, h("tbody", { key: "body" }, body)]);
  const room = h(
    "div",
    { key: "table", class: "formula-room numbers", role: "group", "aria-label": `${title}, one by one` },
    [whole],
  );
  if (rows.length <= MOST_ROWS) return room;
  return h("details", { key: "table" }, [h("summary", { key: "summary" }, `all ${rows.length}, largest first`), room]);
}

/** What a row is called: a joint by its member and the number of its end. @param {string} label */
function rowWords(label) {
  const [member, end] = splitJoint(label);
  return end === "1" || end === "2" ? `${member}, end ${end}` : label;
}

/** @param {DrawnStep} step */
function symbols({ symbols: list }) {
  return h("details", { key: "symbols", class: "symbols" }, [
    h("summary", { key: "summary" }, "what the symbols stand for"),
    h(
      "ul",
      { key: "list" },
      list.map((each) =>
        h("li", { key: each.name }, [
          h(
            "button",
            {
              key: "button",
              type: "button",
              class: each.place ? "symbol highlights" : "symbol",
              "data-highlight": each.name,
            },
            [
              each.symbol,
              h("span", { key: "meaning" }, each.meaning),
              h("span", { key: "value", class: "numbers" }, each.shown),
            ],
          ),
        ]),
      ),
    ),
  ]);
}
