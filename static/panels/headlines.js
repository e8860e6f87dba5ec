/**
 * The four numbers that matter.
 * @module panels/headlines
 */

import { h } from "../values/shapes.js";
import { DASH, amount, mmPerUnit, number, unit } from "../values/units.js";
import {
  couplingWords,
  forceWords,
  hardest,
  inTurnWords,
  messageWords,
  moveWords,
  reasonFor,
  reversalWords,
  verdict,
  withWeightWords,
} from "../values/words.js";
import { overTravel } from "./overtravel.js";

/** @typedef {import("../core/store.js").State} State */

/** The step of the working that each number comes from. @type {Record<string, string>} */
const STEPS = { coupling: "coupling", worst: "worst", "load-ratio": "force", moves: "together" };

/** Couplings nearer to one another are shown alike. */
const SHOWS = 0.005;

/** @param {State} state */
export function headlines(state) {
  return [coupling(state), worst(state), loadRatio(state), moves(state), ...overTravel(state)];
}

/**
 * @typedef {Object} Headline
 * @property {number|null|undefined} value
 * @property {string} shown
 * @property {string} [unit]
 * @property {(string|Shape)[]} said
 * @property {string} how it was got
 * @property {string} [mark]
 * @property {string} [step] the step of the working it comes from, where it is not always the same
 * @property {string|null} [of] the cylinder or end whose working it is
 */

/**
 * @param {string} name
 * @param {string} label
 * @param {Headline} what
 */
function headline(name, label, what) {
  const said = what.said.map((words, index) =>
    typeof words === "string" ? h("p", { key: `said ${index}`, class: "said" }, words) : words,
  );
  return h("section", { key: name, class: `headline ${what.mark ?? ""}`, tabindex: 0, "aria-label": label }, [
    h("h2", {}, label),
    h("p", { class: "figure" }, [
      h(
        "button",
        {
          key: "button",
          type: "button",
          class: "figure-button",
          "data-seek": what.step ?? STEPS[name],
          "data-of": what.of,
          disabled: typeof what.value !== "number",
          title: "Show the working",
        },
        [
          h(
            "output",
            { key: "value", class: "value", "data-readout": name, "data-value": what.value ?? "" },
            what.shown,
          ),
        ],
      ),
      h("span", { key: "unit", class: "unit" }, what.unit ?? ""),
    ]),
    ...said,
    h("p", { key: "how", class: "how", role: "note" }, what.how),
  ]);
}

/** @param {State} state */
function coupling(state) {
  const found = state.answered?.coupling;
  const worst = found?.worst ?? null;
  const residual = found?.residual ?? null;
  const acts = Object.entries(state.answered?.actuators ?? {});
  const most = acts.find(([, each]) => each.coupling !== null && each.coupling === worst);
  const at = acts.find(([name, each]) => name === state.chosen && each.coupling !== null) ?? most;
  const value = at?.[1].coupling ?? null;
  const worse = at && most && value !== null && Math.abs(most[1].coupling ?? 0) > Math.abs(value) + SHOWS ? most : null;
  const how =
    at && value !== null
      ? `While ${at[0]} lengthens the left end rises ${number(at[1].left, "ratio", state.system, { digits: 3 })} ` +
        `times as far and the right end ${number(at[1].right, "ratio", state.system, { digits: 3 })} times; the ` +
        `other end over the one it moves more. −1 is a see-saw, 0 leaves the far end still.` +
        (at[1].sensors ? ` At the sensors: ${number(at[1].sensors.coupling, "ratio", state.system)}.` : "")
      : "The other end's movement over that of the end a cylinder moves more.";
  const label = at && value !== null ? `Coupling, ${at[0]}` : "Coupling, worst cylinder";
  return headline("coupling", label, {
    value,
    of: at?.[0],
    shown: number(value, "ratio", state.system),
    said: [
      value === null ? reasonFor(state, "coupling.worst") : couplingWords(value, state.system),
      ...(worse
        ? [
            h("p", { key: "worse", class: "said" }, [
              h(
                "button",
                { key: "other", type: "button", class: "swap", "data-choose": worse[0] },
                `worse: ${worse[0]} ${number(worse[1].coupling, "ratio", state.system)}`,
              ),
            ]),
          ]
        : []),
      h("p", { key: "in turn", class: "said" }, [
        h("span", { key: "label" }, "ends in turn "),
        h(
          "output",
          {
            key: "value",
            class: "small-value",
            "data-readout": "residual",
            "data-value": residual ?? "",
            title: "What each further round of correcting the ends in turn leaves, begun at the end that is out",
          },
          residual === null ? DASH : amount(Math.abs(residual), "percent", state.system),
        ),
        h(
          "span",
          { key: "why" },
          residual === null || !found
            ? ` ${value === null ? "" : reasonFor(state, "coupling.residual")}`
            : ` left, ${inTurnWords(found)}`,
        ),
      ]),
    ],
    how,
  });
}

/** @param {State} state */
function worst(state) {
  const budget = state.answered?.budget;
  if (!budget) {
    return headline("worst", "Worst edge error", {
      value: null,
      shown: DASH,
      said: [reasonFor(state, "budget")],
      how: "All sources of error at their worst, added up.",
    });
  }
  const judged = state.detail?.mount === state.mount ? (state.detail?.answer ?? null) : null;
  const { inside, words, end, value, searched } = verdict(budget, judged, state.system, (reason) =>
    messageWords(reason, state.mount, state.system),
  );
  const tolerance = budget.tolerance === null ? "" : ` of ±${number(budget.tolerance, "error", state.system)}`;
  const sources = budget[end].sources.length;
  const how =
    (searched
      ? `The mount put together again with every joint where it moves the ${end} end farthest, as far as was found. `
      : `${sources} sources at the ${end} end, each at its worst, added up. `) +
    `Statistical (rss) ${amount(budget[end].rss, "error", state.system)}; the budget below lists the sources.`;
  const sign =
    inside === null ? [] : [h("span", { key: "sign", class: "sign", "aria-hidden": "true" }, inside ? "✓" : "✗")];
  return headline("worst", "Worst edge error", {
    value,
    step: searched ? "true worst" : "worst",
    of: end,
    shown: number(value, "error", state.system),
    unit: `${unit("error", state.system)}${tolerance}`,
    said: [
      h("p", { key: "verdict", class: "said verdict" }, [...sign, h("span", { key: "words" }, words)]),
      ...(searched
        ? [
            h(
              "p",
              { key: "searched", class: "said", "data-said": "searched" },
              `the true worst, solved again; the linear sum says ${amount(budget[end].worst, "error", state.system)}`,
            ),
          ]
        : []),
      ...loadWords(budget, state),
    ],
    how,
    mark: inside === null ? "" : inside ? "inside" : "outside",
  });
}

/**
 * How far it is out from where it stands under the weight alone, and how near a push is to turning.
 * @param {Budget} budget @param {State} state
 */
function loadWords(budget, state) {
  const [left, right] = [budget.left.worst_under_load, budget.right.worst_under_load];
  if (left === null || right === null) return [];
  const seen = Math.max(left, right);
  const turn = reversalWords(budget, state.mount, state.system);
  return [
    h(
      "p",
      { key: "load", class: "said quiet", "data-said": "under-load" },
      `from where the weight lays the play ${amount(seen, "error", state.system)}` + (turn ? `; ${turn}` : ""),
    ),
  ];
}

/** @param {State} state */
function loadRatio(state) {
  const most = state.answered?.actuators ? hardest(state.answered.actuators) : null;
  const weighed = most ? withWeightWords(most[1], state.system) : "";
  const how = most
    ? `Force of the load alone on ${most[0]} over the load on the edge. It equals how many times as far as that ` +
      `cylinder the load's point moves, along the load.`
    : "Force on the cylinder that works hardest over the load on the edge.";
  return headline("load-ratio", "Cylinder load for edge load", {
    value: most?.[1].load_ratio ?? null,
    of: most?.[0],
    shown: number(most?.[1].load_ratio, "ratio", state.system),
    unit: most ? "×" : "",
    said: [
      most ? forceWords(most[0], most[1], state.system) : reasonFor(state, "actuators.load_ratio"),
      ...(weighed ? [h("p", { key: "weighed", class: "said quiet" }, weighed)] : []),
    ],
    how,
  });
}

/** @param {State} state */
function moves(state) {
  const found = state.answered?.coupling?.moves;
  const label = `Correct the ${state.end} end alone`;
  const how =
    "What the cylinders must do together so that this end rises and the other stays; from the inverse of the " +
    "table of edge movements.";
  const other = state.end === "left" ? "right" : "left";
  const swap = h(
    "button",
    { key: "swap", type: "button", class: "swap", "data-action": "swap-end" },
    `show the ${other} end`,
  );
  if (!found) {
    return headline("moves", label, { value: null, shown: DASH, said: [reasonFor(state, "coupling.moves")], how });
  }
  const own = Object.entries(found[state.end]).sort((a, b) => Math.abs(b[1]) - Math.abs(a[1]));
  const count = own.filter(([, move]) => Math.abs(move) > 1e-6).length;
  const rise = mmPerUnit(state.system);
  const rows = own.map(([name, move]) => {
    const words = moveWords(name, move * rise, state.system);
    const hue = Object.keys(state.answered?.actuators ?? {}).indexOf(name) % 8;
    return h("li", { key: name, class: `hue-${hue}`, "data-move": name, "data-value": move }, [
      h("span", { key: "who", class: "whole" }, name),
      h("span", { key: "gap" }, " "),
      h("span", { key: "much", class: "whole" }, `${words.size} ${words.way}`),
    ]);
  });
  return headline("moves", label, {
    value: count,
    shown: String(count),
    unit: count === 1 ? "cylinder" : "cylinders",
    said: [
      h("ul", { key: "moves", class: "said moves" }, rows),
      h("p", { key: "per", class: "said quiet" }, [
        h("span", { key: "w" }, `for each 1 ${unit("length", state.system)} up `),
        swap,
      ]),
    ],
    how,
  });
}
