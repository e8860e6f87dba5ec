/**
 * The load test on the wall: both dials, and the largest parts of what they read.
 * @module panels/boards/dial
 */

import { h } from "../../values/shapes.js";
import { amount, decimals, mmPerUnit, number, unit } from "../../values/units.js";
import { apportion, reasonFor, sourceName } from "../../values/words.js";
import { UNSEEN_MM, faces } from "../dial.js";

/** @typedef {import("../../core/store.js").State} State */

/** So many parts are named; the rest stand together. */
const NAMED = 2;
const ENDS = /** @type {const} */ (["left", "right"]);

/** @param {State} state @returns {Shape[]} */
export function dialOnWall(state) {
  const { mount, system } = state;
  const load = mount.load ? amount(Math.hypot(...mount.load.force), "force", system) : "";
  const title = h("h2", { key: "title", class: "board-title" }, load ? `A jack pushes with ${load}` : "The load test");
  const found = state.answered?.dial;
  if (!found) return [title, h("p", { key: "why", class: "board-quiet" }, `– ${reasonFor(state, "dial")}`)];
  const factor = mmPerUnit(system);
  const digits = decimals("error", system);
  const counts = Object.fromEntries(
    ENDS.map((end) => [
      end,
      apportion(
        found.sources.map((each) => each[end] / factor),
        digits,
      ),
    ]),
  );
  const shown = (/** @type {number} */ count) =>
    number((count / 10 ** digits) * factor, "error", system, { sign: true });
  const order = found.sources
    .map((source, index) => ({ source, index }))
    .sort((a, b) => sizeOf(b.source) - sizeOf(a.source));
  const rest = order.slice(NAMED);
  const row = (/** @type {string} */ key, /** @type {string} */ words, /** @type {string[]} */ numbers) =>
    h("li", { key, class: "wall-row wall-pair" }, [
      h("span", { key: "words", class: "wall-words" }, words),
      ...numbers.map((each, index) => h("span", { key: index, class: "wall-number" }, each)),
    ]);
  const sum = (/** @type {EndName} */ end) => rest.reduce((all, { index }) => all + counts[end][index], 0);
  return [
    title,
    h("div", { key: "faces", class: "dials" }, faces(state)),
    h("ol", { key: "rows", class: "wall-rows" }, [
      row("head", `of it, ${unit("error", system)}`, ["left", "right"]),
      ...order.slice(0, NAMED).map(({ source, index }) =>
        row(
          `${source.id} ${source.kind}`,
          `${sourceName(mount, source)}${ENDS.some((end) => source.unsure[end] >= UNSEEN_MM) ? ", side not known" : ""}`,
          ENDS.map((end) => shown(counts[end][index])),
        ),
      ),
      ...(rest.length
        ? [
            row(
              "rest",
              `${rest.length} smaller`,
              ENDS.map((end) => shown(sum(end))),
            ),
          ]
        : []),
    ]),
  ];
}

/** How much a part can add to either reading. @param {NonNullable<Located["dial"]>["sources"][number]} source */
function sizeOf(source) {
  return Math.max(...ENDS.map((end) => Math.abs(source[end]) + source.unsure[end]));
}
