/**
 * Two mounts on a handout: each by itself, new and worn, in what each is the better, and a half page of either.
 * @module pages/handout/both
 */

import { differences } from "../compare/differences.js";
import { bestSentences } from "../compare/ownbest.js";
import { overShapes } from "../compare/over.js";
import { ranParts } from "../compare/runs.js";
import { sentences } from "../compare/sentences.js";
import { causes } from "../compare/table.js";
import { SIGNS, bar, scaleOf, verdicts } from "../compare/verdicts.js";
import { budgetTable } from "./budget.js";
import { fourNumbers } from "./four.js";
import { inputTable } from "./inputs.js";
import { working } from "./working.js";
import { h } from "../../values/shapes.js";
import { amount } from "../../values/units.js";

/** @typedef {import("../../values/shapes.js").Shape} Shape */
/** @typedef {import("./state.js").Printed} State */
/** @typedef {{to: number, found: Comparison}} WornFound how far the joints are worn, mm, and both compared so */
/**
 * @typedef {{states: State[], questions: import("./asking.js").Question[], found: Comparison|null,
 *   worn: WornFound|null, travel: import("./asking.js").TravelMade|null, run: import("./asking.js").RunMade|null,
 *   system: System}} Both
 */

/** Rows a half page of two mounts has room for: what is smaller, or comes later, is summed up in one more. */
const HALF_ROWS = { budget: 14, members: 6 };
/** The same beside travel or run. */
const FEW_ROWS = { budget: 5, members: 1 };
/** Beside both of them. */
const FEWEST_ROWS = { budget: 0, members: 0 };
/** Letters that the first page has room for to say in what they differ; more is named, and stands in the inputs. */
const LONGEST = 330;

/** @param {Both} both @returns {Shape[]} */
export function bothBody({ states, questions, found, worn, travel, run, system }) {
  const [a, b] = states;
  const more = Boolean(travel || run);
  const all = Boolean(travel && run);
  const rows = all ? FEWEST_ROWS : more ? FEW_ROWS : HALF_ROWS;
  const half = (/** @type {State} */ state, /** @type {string} */ name) =>
    h("div", { key: name, class: "half" }, [
      h("h2", { key: "name", class: "half-name" }, all ? `${name}: inputs, as drawn` : `${name}: ${state.mount.title}`),
      h(
        "section",
        { key: "numbers" },
        fourNumbers(state).filter((each) => each.attrs.class === "warning"),
      ),
      ...(more ? [] : [h("section", { key: "working" }, working(state, questions[name === "A" ? 0 : 1].short))]),
      ...(all ? [] : [h("section", { key: "budget" }, budgetTable(state, rows.budget))]),
      h("section", { key: "inputs" }, inputTable(state, rows.members)),
    ]);
  const mounts = [a.mount, b.mount];
  return [
    ...(found ? comparedParts({ found, mounts, system }, worn) : []),
    h("p", { key: "differences", class: "differences" }, differWords(mounts, system)),
    h("div", { key: "second", class: `second ${all ? "close" : ""}` }, [
      ...laterParts({ travel, run }, mounts, system),
      h("div", { key: "halves", class: "halves" }, [half(a, "A"), half(b, "B")]),
    ]),
  ];
}

/**
 * What a drawing's own scale and case are, beside its name.
 * @param {State} state @param {number} scale mm of the mount per mm of paper
 */
export function scaleWords({ mount, system }, scale) {
  const load = mount.load ? amount(Math.hypot(mount.load.force[0], mount.load.force[1]), "force", system) : "no load";
  const tolerance = mount.tolerance ? `±${amount(mount.tolerance, "error", system)}` : "no tolerance";
  return `${load}, ${tolerance}, drawn 1 : ${scale.toFixed(scale < 10 ? 1 : 0)}`;
}

/** In what inputs they differ, with the inputs where there is room. @param {Mount[]} mounts @param {System} system */
export function differWords([a, b], system) {
  const all = differences(a, b, system);
  const differ = all.filter((each) => !each.same);
  const name = (/** @type {{label: string}} */ { label }) => label.toLowerCase();
  const alike = all.filter((each) => each.same).map(name);
  if (!differ.length) return `Alike in both: ${alike.join(", ")}.`;
  const told = differ.map((each) => `${name(each)}: ${each.words}`).join(". ");
  if (told.length <= LONGEST) return `They differ in: ${told}.`;
  const rest = alike.length ? ` Alike in both: ${alike.join(", ")}.` : "";
  return `They differ in: ${differ.map(name).join(", ")}; see the inputs of either.${rest}`;
}

/** @param {import("../compare/table.js").Shown} shown @param {WornFound|null} worn @returns {Shape[]} */
function comparedParts(shown, worn) {
  const { found, mounts, system } = shown;
  const most = scaleOf([found.a, found.b, ...(worn ? [worn.found.a, worn.found.b] : [])]);
  const each = verdicts(found, mounts, system, most);
  return [
    h(
      "section",
      { key: "verdicts", class: "verdicts" },
      each.map((shapes, index) => h("div", { key: index, class: "verdict" }, shapes)),
    ),
    ...(worn ? [h("section", { key: "worn", class: "verdicts worn" }, wornParts(found, worn, most, system))] : []),
    h("section", { key: "sentences" }, sentences(shown)),
    h("section", { key: "table" }, causes(shown)),
  ];
}

/**
 * Either with worn joints, before and after in words, its bar at the scale of those above.
 * @param {Comparison} before @param {WornFound} worn @param {number} most mm @param {System} system @returns {Shape[]}
 */
export function wornParts(before, { to, found }, most, system) {
  return /** @type {const} */ (["a", "b"]).map((name) => {
    const [was, now] = [before[name], found[name]];
    const size = (/** @type {Verdict} */ { worst }) => (worst === null ? "not known" : amount(worst, "error", system));
    const words = `worst edge error ${size(was)} before, ${size(now)} after`;
    return h("div", { key: name, class: "verdict", "data-worn-of": name }, [
      h("p", { key: "words", class: `verdict-line ${now.state.replace(" ", "-")}` }, [
        h("strong", { key: "state", class: "worn-state" }, [
          h("span", { key: "sign", "aria-hidden": "true" }, `${SIGNS[now.state]} `),
          h(
            "span",
            { key: "t" },
            `${name.toUpperCase()} ${now.state} with pins worn to ${amount(to, "error", system)}`,
          ),
        ]),
        h("span", { key: "sizes" }, `: ${words}.`),
      ]),
      ...(now.end ? [bar(now, most, system)] : []),
    ]);
  });
}

/**
 * Both over their travel and over a run, where that is asked for.
 * @param {Pick<Both, "travel"|"run">} made @param {Mount[]} mounts @param {System} system @returns {Shape[]}
 */
function laterParts(made, mounts, system) {
  const [over, both] = [made.travel?.both, made.run?.both];
  return [
    ...(over ? [h("section", { key: "over", class: "part" }, overShapes({ found: over, mounts, system }))] : []),
    ...(both
      ? [
          h("section", { key: "runs", class: "part" }, [
            h("h2", { key: "h", class: "part-head" }, "Over the same run"),
            ...ranParts({ found: both, mounts, system }),
            h("h3", { key: "best", class: "part-head" }, "Each at its own best"),
            ...bestSentences({ found: both, mounts, system }),
          ]),
        ]
      : []),
  ];
}
