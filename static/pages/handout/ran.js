/**
 * A grading run on the handout: the long section of each mount, four numbers and one sentence.
 * @module pages/handout/ran
 */

import { fourNumbers } from "../run/four.js";
import { sectionShapes } from "../run/section.js";
import { Series, largest } from "../run/series.js";
import { described } from "../compare/runs.js";
import { asSentence, filled } from "../../values/messages.js";
import { h } from "../../values/shapes.js";

/** @typedef {import("../../values/shapes.js").Shape} Shape */

const SIZE = { width: 720, height: 92 };
const REACH_MM = 8;

/** @param {{mount: Mount, ran: Ran}} made @param {RunSettings} settings @param {System} system @returns {Shape[]} */
export function ranShapes({ mount, ran }, settings, system) {
  const start = { left: settings.start.left ?? 0, right: settings.start.right ?? 0 };
  const series = Series.of(ran);
  const { errors, ground } = series;
  const reach = Math.max(
    REACH_MM,
    2.2 * (mount.tolerance ?? 0),
    1.12 * largest(errors.left, errors.right, ground.left, ground.right),
  );
  const told = {
    name: /** @type {const} */ ("a"),
    live: { summary: ran.summary, seeds: ran.seeds },
    tolerance: mount.tolerance ?? null,
    largest: largest(errors.left, errors.right),
  };
  const section = {
    series,
    size: SIZE,
    seconds: settings.seconds,
    speed: settings.speed,
    reach,
    tolerance: mount.tolerance ?? null,
    now: null,
    letters: 11.5,
    system,
  };
  return [
    h("h2", { key: "head" }, `A grading run: ${described(settings, system)}`),
    {
      tag: "svg",
      attrs: { key: "svg", viewBox: `0 0 ${SIZE.width} ${SIZE.height}`, role: "img", "aria-label": "long section" },
      kids: sectionShapes(section),
    },
    h("p", { key: "legend", class: "legend" }, [
      h("span", { key: "left", class: "key left" }, "left end"),
      h("span", { key: "right", class: "key right" }, "right end"),
      h("span", { key: "before", class: "key before" }, "ground before, under the blade"),
      h("span", { key: "band", class: "key band" }, "tolerance"),
    ]),
    h("div", { key: "numbers", class: "ran-numbers of-1" }, fourNumbers([told], start, system, false)),
    h(
      "p",
      { key: "notes", class: "ran-note" },
      [...ran.notes.map((note) => `${asSentence(filled(note, system))}.`), LEFT_OUT].join(" "),
    ),
  ];
}

const LEFT_OUT =
  "Reckoned as a row of poses: dynamics of machine and tyres, the soil's resistance and the operator are left out. " +
  "It compares mounts; it promises no time and no error.";
