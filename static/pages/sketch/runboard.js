/**
 * A grading run on the wall: the long section and what it comes to.
 * @module pages/sketch/runboard
 */

import { four, percent, seconds } from "../run/words.js";
import { sectionShapes } from "../run/section.js";
import { Series, largest } from "../run/series.js";
import { filled } from "../../values/messages.js";
import { h } from "../../values/shapes.js";
import { amount, decimalsFor } from "../../values/units.js";

/** @typedef {import("../../core/store.js").State} State */

/** In letters of a thirtieth of the wall, whatever its size: the section is drawn this wide and scaled. */
const SIZE = { width: 480, height: 170 };
const LETTERS = 26;

/** @param {State} state @returns {Shape[]} */
export function runOnWall(state) {
  const { mount, system, wallRun } = state;
  const title = (/** @type {string} */ words) => h("h2", { key: "title", class: "board-title" }, words);
  const made = wallRun?.mount === mount ? wallRun : null;
  if (!made?.ran || !made.settings) {
    const why = made ? `– ${made.why}` : "The run is being made.";
    return [title("A grading run"), h("p", { key: "why", class: "board-quiet", role: "status" }, why)];
  }
  const { ran, settings } = made;
  const start = { left: settings.start.left ?? 0, right: settings.start.right ?? 0 };
  const off = amount(start.right, "error", system, { digits: decimalsFor(1, system) });
  const series = Series.of(ran);
  const tolerance = mount.tolerance ?? null;
  const reach = Math.max(1.12 * largest(series.errors.left, series.errors.right), 2.2 * (tolerance ?? 0));
  const found = four(ran.summary, start);
  const row = (
    /** @type {string} */ key,
    /** @type {string} */ words,
    /** @type {string} */ result,
    /** @type {number|null} */ value,
  ) =>
    h("li", { key, class: "board-line" }, [
      h("span", { key: "words", class: "board-words" }, words),
      h("span", { key: "result", class: "board-result", "data-run": key, "data-value": value }, result),
    ]);
  return [
    title(`A run: right end ${off} off`),
    h(
      "svg",
      {
        key: "section",
        class: "wall-section",
        viewBox: `0 0 ${SIZE.width} ${SIZE.height}`,
        role: "img",
        "aria-label": "both ends off grade over the way: left whole, right dashed",
      },
      sectionShapes({
        series,
        size: SIZE,
        seconds: settings.seconds,
        speed: settings.speed,
        reach,
        tolerance,
        now: null,
        letters: LETTERS,
        system,
      }),
    ),
    h("ol", { key: "four", class: "board-lines" }, [
      row("time", "both ends on grade after", found.time === null ? "never" : seconds(found.time), found.time),
      row("other", "meanwhile the left end goes", amount(found.other, "error", system), found.other),
      row("rms", "rms after settling", amount(found.rms, "error", system), found.rms),
      ...(found.inside === null || ran.notes.length
        ? []
        : [row("inside", "of the way inside", percent(found.inside), found.inside)]),
    ]),
    ...(ran.notes.length
      ? []
      : [h("p", { key: "key", class: "board-quiet" }, "Left end whole, right end dashed; hatched: the tolerance.")]),
    ...ran.notes.slice(0, 1).map((note) => h("p", { key: note.code, class: "board-quiet" }, filled(note, system))),
  ];
}
