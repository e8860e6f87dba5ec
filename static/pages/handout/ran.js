/**
 * A grading run on the handout: the long section of each mount, four numbers and one sentence.
 * @module pages/handout/ran
 */

import { fourNumbers } from "../run/four.js";
import { sectionShapes } from "../run/section.js";
import { Series, largest } from "../run/series.js";
import { fourOf, verdict } from "../run/words.js";
import { filled } from "../../values/messages.js";
import { h } from "../../values/shapes.js";
import { amount } from "../../values/units.js";

/** @typedef {{mount: Mount, ran: Ran}} Made */

const NAMES = /** @type {const} */ (["a", "b"]);
const SIZE = { width: 720, height: 190 };
const REACH_MM = 8;

/** @param {Made[]} made @param {RunSettings} settings @param {System} system @returns {Shape[]} */
export function ranShapes(made, settings, system) {
  const start = { left: settings.start.left ?? 0, right: settings.start.right ?? 0 };
  const series = made.map(({ ran }) => Series.of(ran));
  const reach = Math.max(
    REACH_MM,
    ...made.map(({ mount }) => 2.2 * (mount.tolerance ?? 0)),
    ...series.map(({ errors, ground }) => 1.12 * largest(errors.left, errors.right, ground.left, ground.right)),
  );
  const told = made.map(({ mount, ran }, index) => ({
    name: NAMES[index],
    live: { summary: ran.summary, seeds: ran.seeds },
    tolerance: mount.tolerance ?? null,
    largest: largest(series[index].errors.left, series[index].errors.right),
  }));
  return [
    h("h2", { key: "head", class: "half-name" }, `A grading run: ${described(settings, system)}`),
    ...made.flatMap(({ mount, ran }, index) => [
      h("figure", { key: `section ${index}`, class: "drawing", "data-side": NAMES[index] }, [
        h("figcaption", { key: "name" }, [
          h("b", { key: "n" }, made.length > 1 ? "AB"[index] : ""),
          h("span", { key: "t" }, mount.title),
        ]),
        h(
          "svg",
          { key: "svg", viewBox: `0 0 ${SIZE.width} ${SIZE.height}`, role: "img", "aria-label": "long section" },
          sectionShapes({
            series: series[index],
            size: SIZE,
            seconds: settings.seconds,
            speed: settings.speed,
            reach,
            tolerance: mount.tolerance ?? null,
            now: null,
            letters: 11.5,
            system,
          }),
        ),
      ]),
      ...ran.notes.map((note) => h("p", { key: `${index} ${note.code}`, class: "ran-note" }, filled(note, system))),
    ]),
    h("p", { key: "legend", class: "legend" }, [
      h("span", { key: "left", class: "key left" }, "left end"),
      h("span", { key: "right", class: "key right" }, "right end"),
      h("span", { key: "before", class: "key before" }, "ground before, under the blade"),
      h("span", { key: "band", class: "key band" }, "tolerance"),
    ]),
    h("div", { key: "numbers", class: `ran-numbers of-${made.length}` }, fourNumbers(told, start, system, false)),
    ...sentence(made, start, system),
    h("p", { key: "left out", class: "ran-note" }, LEFT_OUT),
  ];
}

const LEFT_OUT =
  "Reckoned as a row of poses: dynamics of machine and tyres, the soil's resistance and the operator are left out. " +
  "It compares mounts; it promises no time and no error.";

/** @param {Made[]} made @param {{left: number, right: number}} start @param {System} system */
function sentence(made, start, system) {
  if (made.length < 2) return [];
  const [a, b] = made.map(({ ran }) => fourOf(ran, start));
  if (!a || !b) return [];
  const begun = start.left !== 0 || start.right !== 0;
  return [h("p", { key: "sentence", class: "ran-sentence" }, verdict(a, b, begun, system))];
}

/** What was run, in a line. @param {RunSettings} settings @param {System} system */
function described({ ground, start, speed, control, sensing }, system) {
  const off = /** @type {const} */ (["left", "right"]).filter((end) => start[end]);
  const begins = off.map((end) => `${end} end ${amount(Number(start[end]), "error", system)} off`);
  const under = ground.kind === "rough" ? `rough ground, class ${ground.class}` : GROUNDS[ground.kind];
  const late = amount((sensing.delay ?? 0) + (control.on_delay ?? 0), "time", system);
  return [
    under,
    ...begins,
    `${amount(speed, "pace", system)}`,
    `${control.valve} valves, ${control.way}, ${late} late`,
  ].join("; ");
}

const GROUNDS = { flat: "level ground", step: "a step", bump: "a bump or rut", waves: "waves" };
