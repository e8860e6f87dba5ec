/**
 * The front of a search as a plot: error up, coupling along, load ratio by the size of the mark; filled marks meet
 * every goal. Points are pressed or reached by keyboard.
 * @module panels/front
 */

import { placesOf, plotOf, rowWords } from "../values/front.js";
import { goalName } from "../values/goals.js";
import { h, line, px, text } from "../values/shapes.js";
import { number, unit } from "../values/units.js";
import { goalKind } from "../values/vocabulary.js";

/** @typedef {import("../values/front.js").Traded} Traded */

const ROOM = { width: 350, height: 232, left: 44, right: 14, top: 20, bottom: 40 };

/**
 * @typedef {Object} Front
 * @property {number[][]} rows objectives of each mount
 * @property {Traded[]} objectives
 * @property {number[]|null} before those of the mount the search began with
 * @property {(index: number) => boolean} meets whether a mount meets every goal
 * @property {Goal[]} goals
 * @property {number|null} shown
 * @property {System} system
 * @property {boolean} pickable
 */

/** @param {Front} front @returns {Shape} */
export function frontPlot({ rows, objectives, before, meets, goals, shown, system, pickable }) {
  const { up, along, size } = placesOf(objectives);
  if (along < 0 || up < 0) return h("p", { key: "plot", class: "said quiet" }, "One number is traded: see the table.");
  const plot = plotOf(before ? [...rows, before] : rows, objectives, ROOM, system);
  const name = (/** @type {number} */ at) => {
    const units = unit(goalKind(objectives[at].what).measure, system);
    return `${goalName(objectives[at])}${units ? `, ${units}` : ""}`;
  };
  const marks = [...rows.keys()].sort((a, b) => plot.radius(rows[b]) - plot.radius(rows[a]));
  const sized = size < 0 ? "" : `; the larger a mark, the more ${goalName(objectives[size])}`;
  return h("figure", { key: "plot", class: "front-plot" }, [
    h(
      "svg",
      {
        key: "svg",
        viewBox: `0 0 ${ROOM.width} ${ROOM.height}`,
        role: pickable ? "group" : "img",
        "aria-label": `${name(up)} against ${name(along)}`,
      },
      [
        ...frame(plot, objectives, system),
        ...limits(plot, objectives, goals),
        text([ROOM.left, 12], `${name(up)} ↑`, { key: "up", class: "front-words" }),
        text([ROOM.width - ROOM.right, ROOM.height - 6], `${name(along)} →`, {
          key: "along",
          class: "front-words front-end",
        }),
        ...(before ? [beforeMark(plot.at(before))] : []),
        ...marks.map((index) =>
          point(index, plot.at(rows[index]), plot.radius(rows[index]), {
            meets: meets(index),
            shown: shown === index,
            words: pickable
              ? `mount ${index + 1}: ${rowWords(rows[index], objectives, system)}, ` +
                (meets(index) ? "meets every goal" : "misses a goal")
              : null,
          }),
        ),
      ],
    ),
    h(
      "figcaption",
      { key: "caption", class: "said quiet" },
      `Filled: meets every goal${sized}. Dashed: goals.${before ? " ×: the mount it began with." : ""}`,
    ),
  ]);
}

/** @param {ReturnType<typeof plotOf>} plot @param {Traded[]} objectives @param {System} system */
function frame({ x, y, px: across, py: high }, objectives, system) {
  const { up, along } = placesOf(objectives);
  const [left, right] = [ROOM.left, ROOM.width - ROOM.right];
  const [top, low] = [ROOM.top, ROOM.height - ROOM.bottom];
  const shown = (/** @type {number} */ value, /** @type {number} */ at, /** @type {number} */ digits) =>
    number(value, goalKind(objectives[at].what).measure, system, { digits });
  return [
    ...y.ticks.flatMap((tick) => [
      line([left, high(tick)], [right, high(tick)], { key: `y ${tick}`, class: "front-grid" }),
      text([left - 5, high(tick) + 3.5], shown(tick, up, y.digits), {
        key: `ty ${tick}`,
        class: "front-tick front-end",
      }),
    ]),
    ...x.ticks.flatMap((tick) => [
      line([across(tick), top], [across(tick), low], { key: `x ${tick}`, class: "front-grid" }),
      text([across(tick), low + 13], shown(tick, along, x.digits), {
        key: `tx ${tick}`,
        class: "front-tick front-middle",
      }),
    ]),
    h("path", { key: "frame", d: `M${left} ${top}V${low}H${right}`, class: "front-axis" }),
  ];
}

/**
 * Goals as lines that a good mount is left of and below.
 * @param {ReturnType<typeof plotOf>} plot @param {Traded[]} objectives @param {Goal[]} goals
 */
function limits(plot, objectives, goals) {
  const { up, along } = placesOf(objectives);
  const most = (/** @type {number} */ at) =>
    goals.find(({ what, over }) => what === objectives[at].what && over === objectives[at].over)?.most;
  const [a, b] = [most(along), most(up)];
  const lines = [];
  if (a !== undefined && plot.x.from <= a && a <= plot.x.to)
    lines.push(
      line([plot.px(a), ROOM.top], [plot.px(a), ROOM.height - ROOM.bottom], { key: "limit x", class: "front-limit" }),
    );
  if (b !== undefined && plot.y.from <= b && b <= plot.y.to)
    lines.push(
      line([ROOM.left, plot.py(b)], [ROOM.width - ROOM.right, plot.py(b)], { key: "limit y", class: "front-limit" }),
    );
  return lines;
}

/** @param {[number, number]} at */
function beforeMark([x, y]) {
  return h("path", {
    key: "before",
    d: `M${px(x - 5)} ${px(y - 5)}l10 10m0 -10l-10 10`,
    class: "front-before",
  });
}

/**
 * @param {number} index @param {[number, number]} at @param {number} radius
 * @param {{meets: boolean, shown: boolean, words: string|null}} how words: what it is, where it can be pressed
 */
function point(index, [x, y], radius, { meets, shown, words }) {
  const marks = ["front-point", meets ? "meets" : "misses", ...(shown ? ["shown"] : [])].join(" ");
  const attrs = words
    ? { "data-front": index, tabindex: 0, role: "button", "aria-label": words, "aria-pressed": String(shown) }
    : {};
  return h("g", { key: `point ${index}`, class: marks, transform: `translate(${px(x)} ${px(y)})`, ...attrs }, [
    ...(words ? [h("circle", { key: "target", r: 13, class: "front-target" })] : []),
    h("circle", { key: "ring", r: px(radius + 4), class: "front-ring" }),
    h("circle", { key: "dot", r: px(radius), class: "front-dot" }),
  ]);
}
