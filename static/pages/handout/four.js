/**
 * The four numbers that matter, in print.
 * @module pages/handout/four
 */

import { asSentence } from "../../values/messages.js";
import { h } from "../../values/shapes.js";
import { DASH, amount, inTrade, mmPerUnit, unitsOf } from "../../values/units.js";
import {
  couplingWords,
  hardest,
  inTurnWords,
  mobilityWords,
  moveWords,
  verdict,
  messageWords,
  reasonFor,
  reversalWords,
} from "../../values/words.js";
import { figure, given, sentence } from "./figure.js";
import { worseEnd } from "./state.js";

/** @typedef {import("./state.js").Printed} State */
/** @typedef {import("../../values/shapes.js").Shape} Shape */

/** @param {State} state @returns {Shape[]} */
export function fourNumbers(state) {
  const { answered } = state;
  const located = answered.mobility.state === "located";
  const notes = located
    ? answered.warnings.map((each) => messageWords(each, state.mount, state.system))
    : [mobilityWords(answered.mobility)];
  return [
    h("div", { key: "four", class: "four" }, [coupling(state), worst(state), load(state), moves(state)]),
    ...notes.map((/** @type {string} */ words, /** @type {number} */ index) =>
      h("p", { key: `note ${index}`, class: "warning" }, `! ${asSentence(words)}`),
    ),
  ];
}

/** @param {string} name @param {string} label @param {Shape} number @param {Shape[]} said @param {string} [mark] */
function one(name, label, number, said, mark = "") {
  return h("section", { key: name, class: `one ${mark}`, "data-handout": name }, [
    h("h2", { key: "label" }, label),
    h("p", { key: "number", class: "number" }, [number]),
    ...said,
  ]);
}

/** @param {string} key @param {(string|Shape)[]} parts */
function line(key, parts) {
  return h("p", { key }, sentence(parts));
}

/** @param {string} name @param {string} label @param {string} why */
function absent(name, label, why) {
  return one(name, label, h("output", { "data-value": "" }, DASH), [line("why", [why])]);
}

/** @param {State} state */
function coupling(state) {
  const label = "Coupling, worst cylinder";
  const found = state.answered.coupling;
  const value = found?.worst ?? null;
  if (!found || value === null) return absent("coupling", label, reasonFor(state, "coupling.worst"));
  const { residual } = found;
  return one("coupling", label, figure(state, ["coupling", "worst"], "ratio"), [
    line("words", [couplingWords(value, state.system)]),
    line(
      "in turn",
      residual === null
        ? []
        : [
            "ends in turn: ",
            given(["coupling", "residual"], residual, amount(Math.abs(residual), "percent", state.system)),
            ` left, ${inTurnWords(found)}`,
          ],
    ),
  ]);
}

/** @param {State} state */
function worst(state) {
  const label = "Worst edge error";
  const { budget } = state.answered;
  if (!budget) return absent("worst", label, reasonFor(state, "budget"));
  const end = worseEnd(budget);
  const judged = state.detail?.answer ?? null;
  const {
    inside,
    words,
    value,
    searched,
    end: worse,
  } = verdict(budget, judged, state.system, (reason) => messageWords(reason, state.mount, state.system));
  const again = solvedAgain(state, end);
  const turn = reversalWords(budget, state.mount, state.system);
  return one(
    "worst",
    searched ? "Worst edge error, true" : label,
    searched ? trueFigure(state, worse, value) : figure(state, ["budget", end, "worst"], "error"),
    [
      line("verdict", [inside === null ? words : `${inside ? "✓" : "✗"} ${words}`]),
      line("of", [
        ...(budget.tolerance === null ? [] : ["tolerance ±", figure(state, ["budget", "tolerance"], "error"), "; "]),
        "statistical (rss) ",
        figure(state, ["budget", end, "rss"], "error"),
        ...(searched
          ? ["; the linear sum says ", figure(state, ["budget", worse, "worst"], "error")]
          : again === null
            ? []
            : [
                "; solved again ",
                h("output", { "data-solved-again": end, "data-value": again }, heightOf(again, state)),
              ]),
      ]),
      ...(turn ? [line("turn", [turn])] : []),
    ],
    inside === null ? "" : inside ? "inside" : "outside",
  );
}

/**
 * The true worst of an end, mm; null where it comes apart or is not known.
 * @param {State} state @param {EndName} end
 */
function solvedAgain(state, end) {
  const found = state.detail?.answer.worst?.[end];
  return found?.low && found.high ? Math.max(Math.abs(found.low.value), Math.abs(found.high.value)) : null;
}

/** @param {number} value mm @param {State} state */
function heightOf(value, state) {
  return amount(value, "error", state.system);
}

/** The true worst in print. @param {State} state @param {EndName} end @param {number} value mm */
function trueFigure(state, end, value) {
  return h("output", { "data-searched": end, "data-value": value }, amount(value, "error", state.system));
}

/** @param {State} state */
function load(state) {
  const label = "Cylinder load for edge load";
  const most = state.answered.actuators ? hardest(state.answered.actuators) : null;
  if (!most) return absent("load-ratio", label, reasonFor(state, "actuators.load_ratio"));
  const [id, { force }] = most;
  return one(
    "load-ratio",
    label,
    h("span", {}, sentence([figure(state, ["actuators", id, "load_ratio"], "ratio"), " ×"])),
    [
      line("words", [
        `${id} `,
        figure(state, ["actuators", id, "force"], "force", { size: true }),
        ", ",
        figure(state, ["actuators", id, "pressure"], "pressure", { size: true }),
        force >= 0 ? " pushed" : " pulled",
      ]),
    ],
  );
}

/** @param {State} state */
function moves(state) {
  const label = "Correct one end alone";
  const found = state.answered.coupling?.moves;
  if (!found) return absent("moves", label, reasonFor(state, "coupling.moves"));
  const counts = ["left", "right"].map(
    (end) => Object.values(found[end]).filter((move) => Math.abs(/** @type {number} */ (move)) > 1e-6).length,
  );
  const count = Math.max(...counts);
  const rise = mmPerUnit(state.system);
  return one(
    "moves",
    label,
    h("span", {}, `${count} ${count === 1 ? "cylinder" : "cylinders"}`),
    ["left", "right"].map((end) =>
      line(end, [
        `${end} end ${amount(rise, "length", state.system, { digits: 0 })} up: `,
        ...Object.entries(found[end]).flatMap(([id, move], index) => {
          const words = moveWords(id, /** @type {number} */ (move) * rise, state.system);
          return [
            index ? ", " : "",
            `${id} `,
            given(["coupling", "moves", end, id], /** @type {number} */ (move), words.size),
            ` ${words.way}`,
          ];
        }),
      ]),
    ),
  );
}

/**
 * The strip under a drawing, in the manner of a title block.
 * @param {State} state
 * @param {number} scale mm of the mount per mm of paper
 * @param {string} date
 */
export function block(state, scale, date) {
  const { mount, system } = state;
  const slope = state.answered.pose?.slope ?? null;
  const size = mount.load ? amount(Math.hypot(mount.load.force[0], mount.load.force[1]), "force", system) : "none";
  /** @type {[string, string, (string|Shape)[]][]} */
  const cells = [
    ["mount", "Mount", [mount.title]],
    ["load", "Load", [size]],
    ["tolerance", "Tolerance", [mount.tolerance ? `±${amount(mount.tolerance, "error", system)}` : "none"]],
    [
      "fall",
      inTrade("Cross fall", system),
      [slope === null ? DASH : figure(state, ["pose", "slope"], "percent", { sign: true })],
    ],
    ["scale", "Scale", [`1 : ${scale.toFixed(scale < 10 ? 1 : 0)}`]],
    ["units", "Units", [unitsOf(system)]],
    ["date", "Date", [date]],
  ];
  return h(
    "div",
    { key: "block", class: "block" },
    cells.map(([key, label, parts]) =>
      h("p", { key, class: `block-${key}` }, [
        h("span", { key: "l", class: "block-label" }, label),
        h("span", { key: "v" }, sentence(parts)),
      ]),
    ),
  );
}
