/**
 * The mount over its travel: curves of any number over one stroke, and where each is worst.
 * @module panels/travel
 */

import { axesOf, curveOver } from "../core/travel.js";
import { toldOver } from "../values/layers.js";
import { h } from "../values/shapes.js";
import { deadWords, metBy, whereWords } from "../values/travel.js";
import { amount, number } from "../values/units.js";
import { own } from "../values/own.js";
import { chart, legend } from "./curves.js";
import { planeKey } from "./planekey.js";
import { wholeTravel } from "./overtravel.js";

/** @typedef {import("../core/store.js").State} State */
/** @typedef {import("../values/travel.js").Over} Over */
/** @typedef {import("../values/layers.js").Told} Told */

const [WIDTH, HEIGHT] = [372, 190];
/**
 * A number shows its unit alone where its quantity has none.
 * @param {number} value @param {Told} told @param {System} system
 */
const shownOf = (value, told, system) =>
  told.unit ? `${number(value, told.quantity, system)} ${told.unit}` : amount(value, told.quantity, system);

/** @param {State} state */
export function curves(state) {
  const { mount, system, shownTravel, travel } = state;
  const ids = mount.members.filter(({ kind }) => kind === "cylinder").map(({ id }) => id);
  if (!ids.length) return [h("p", { key: "none", class: "said" }, "There is no cylinder: nothing to work.")];
  const all = toldOver(mount);
  const told = all.find(({ name }) => name === shownTravel.curve) ?? all[0];
  const id = curveOver(state);
  const over = travel.curve?.cylinders[0] === id ? travel.curve : null;
  return [
    h("div", { key: "what", class: "curve-choices" }, [
      h(
        "select",
        { key: "curve", "data-travel": "curve", value: told.name, "aria-label": "what the curves are of" },
        all.map(({ name, label }) => h("option", { key: name, value: name }, label)),
      ),
      h("span", { key: "over", class: "quiet" }, "over"),
      h(
        "select",
        { key: "cylinder", "data-travel": "over", value: id, "aria-label": "the cylinder the curves go over" },
        ids.map((each) => h("option", { key: each, value: each }, each)),
      ),
    ]),
    over
      ? chart({
          over,
          told,
          tolerance: mount.tolerance ?? null,
          at: own(state.command, id) ?? 0,
          dead: metBy(over, id, state.command),
          system,
          width: WIDTH,
          height: HEIGHT,
          hand: amount(own(state.command, id) ?? 0, "fine", system, { sign: true }),
        })
      : h("svg", { key: "svg", class: "curves", viewBox: `0 0 ${WIDTH} ${HEIGHT}`, "aria-hidden": "true" }),
    h("p", { key: "legend", class: "said quiet curve-legend" }, [
      ...legend(told),
      ...(told.name === "worst" && mount.tolerance
        ? [h("span", { key: "band", class: "curve-key" }, "hatched: tolerance")]
        : []),
      h("span", { key: "worst", class: "curve-key" }, "◇ worst"),
    ]),
    ...stays(state, id),
    h("div", { key: "plane", class: "plane-in-tab" }, planeKey(state)),
    h("div", { key: "files", class: "curve-choices" }, [
      h(
        "button",
        { key: "csv", type: "button", "data-action": "travel-csv", title: "Every number over this stroke, as a table" },
        "save as CSV",
      ),
      h("button", { key: "svg", type: "button", "data-action": "travel-svg", disabled: !over }, "save as SVG"),
    ]),
  ];
}

/** Where the others are meanwhile. @param {State} state @param {string} id */
function stays({ mount, command, system }, id) {
  const others = mount.members.filter((each) => each.kind === "cylinder" && each.id !== id);
  if (!others.length) return [];
  const words = others.map((each) => {
    const move = own(command, each.id) ?? 0;
    const where = Math.abs(move) < 1e-6 ? "as drawn" : `at ${amount(move, "fine", system, { sign: true })}`;
    return `${each.id} stays ${where}`;
  });
  return [h("p", { key: "stays", class: "said quiet" }, words.join(", "))];
}

/** @param {State} state */
export function worstOverTravel(state) {
  const { mount, system } = state;
  const over = wholeTravel(state);
  if (!over) return [];
  const rows = toldOver(mount)
    .filter(({ name }) => !["height", "condition"].includes(name))
    .flatMap((told) =>
      told.lines.flatMap((each) => {
        const worst = own(over.worst, each.layer);
        return worst ? [row(over, told, each, worst, system)] : [];
      }),
    );
  return [
    h("table", { key: "table", class: "travel-table" }, [
      h("thead", { key: "head" }, [
        h("tr", { key: "row" }, [
          ...["what and where", "as drawn", "worst", "more by"].map((words) =>
            h("th", { key: words, scope: "col" }, words),
          ),
        ]),
      ]),
      h("tbody", { key: "body" }, rows),
    ]),
    h(
      "p",
      { key: "how", class: "said quiet" },
      `Over ${over.shape[0] > 1 ? `${over.shape[1]} by ${over.shape[0]}` : over.shape[1]} positions of ` +
        `${over.cylinders.join(" and ")}; errors are the sum of all sources at their worst.`,
    ),
  ];
}

/**
 * @param {Over} over @param {Told} told @param {Told["lines"][number]} line @param {AtWorst} worst
 * @param {System} system
 */
function row(over, told, { layer, words }, worst, system) {
  const drawn = own(over.drawn, layer);
  const more = drawn === undefined ? null : Math.abs(worst.value) - Math.abs(drawn);
  const where = whereWords(over, worst.command, system);
  const label = told.lines.length > 1 ? `${told.label}, ${words}` : told.label;
  return h("tr", { key: layer }, [
    h("th", { key: "what", scope: "row" }, [
      h("span", { key: "label" }, label),
      h(
        "button",
        {
          key: "go",
          type: "button",
          class: "swap",
          "data-stand": JSON.stringify(worst.command),
          "aria-label": `go to the worst ${label}: ${where}`,
        },
        where,
      ),
    ]),
    h("td", { key: "drawn" }, drawn === undefined ? "–" : shownOf(drawn, told, system)),
    h("td", { key: "worst", class: "travel-worst" }, shownOf(worst.value, told, system)),
    h("td", { key: "more" }, more === null ? "–" : shownOf(more, told, system)),
  ]);
}

/** @param {State} state */
export function deadCentres(state) {
  const { mount, shownTravel, travel, command, system } = state;
  const over = wholeTravel(state);
  if (!over || !travel.beyond) return [h("p", { key: "wait", class: "said quiet" }, "…")];
  const { beyond } = travel;
  const ids = axesOf(mount, shownTravel);
  const found = ids.flatMap((id) => {
    const words = deadWords(id, metBy(over, id, command), beyond, system);
    return words ? [h("li", { key: id }, `${id}: ${words}`)] : [];
  });
  const names = over.dead_centres.map(({ members }) => members.join(", "));
  return [
    found.length
      ? h("ul", { key: "list", class: "dead-list" }, found)
      : h("p", { key: "none", class: "said" }, "None within the strokes, nor within half a stroke beyond them."),
    ...(names.length ? [h("p", { key: "line", class: "said quiet" }, `In line there: ${names.join("; ")}.`)] : []),
  ];
}
