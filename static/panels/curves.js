/**
 * Curves of a number over the stroke of one cylinder, with the tolerance band, where the mount stands and where each is
 * worst.
 * @module panels/curves
 */

import { roundLevels } from "../values/contours.js";
import { h, line, px, text, through } from "../values/shapes.js";
import { endsOf, rangeOf } from "../values/travel.js";
import { decimalsFor, inward, number } from "../values/units.js";
import { own } from "../values/own.js";

/** @typedef {import("../values/travel.js").Over} Over */
/** @typedef {import("../values/layers.js").Told} Told */

/**
 * @typedef {Object} Drawn
 * @property {Over} over
 * @property {Told} told
 * @property {number|null} tolerance mm; a band where the curves are of an error
 * @property {number} at where the mount stands, mm longer than drawn
 * @property {number[]} dead dead centres on the way, mm longer than drawn
 * @property {System} system
 * @property {number} width
 * @property {number} height
 * @property {string} [hand] the words of the mark that is dragged, where it can be
 * @property {Attributes} [attrs]
 * @typedef {import("../values/shapes.js").Attributes} Attributes
 */

const ROOM = { left: 40, right: 10, top: 8, bottom: 18 };
/** Lines of a number beside the first are told by their dashes. */
const DASHES = ["", "6 3", "2 3", "9 3 2 3"];

/** @param {Drawn} drawn */
export function chart({ over, told, tolerance, at, dead, system, width, height, hand, attrs }) {
  const [id] = over.cylinders;
  const [least, most] = endsOf(over, id);
  const [x0, x1, y0, y1] = [ROOM.left, width - ROOM.right, height - ROOM.bottom, ROOM.top];
  const lines = told.lines.filter(({ layer }) => own(over.layers, layer));
  const band = told.name === "worst" ? tolerance : null;
  const [low, high] = heightOf(over, lines, told, band);
  const x = (/** @type {number} */ move) => x0 + ((move - least) / (most - least)) * (x1 - x0);
  const y = (/** @type {number} */ value) => y0 - ((value - low) / (high - low)) * (y0 - y1);
  const { levels, step } = roundLevels(low, high, height < 180 ? 4 : 6, inward(1, told.quantity, system));
  const digits = Math.max(0, -Math.floor(Math.log10(step / inward(1, told.quantity, system)) + 1e-9));
  const words = told.lines.map((each) => each.words).join(", ");
  const label = `${told.label} over the stroke of ${id}: ${words}`;
  const shapes = [
    ...(band === null ? [] : bandOf([x0, x1], y(0), y(band))),
    ...levels.map((level) => line([x0, y(level)], [x1, y(level)], { key: `level ${level}`, class: "curve-grid" })),
    ...levels.map((level) =>
      text([x0 - 5, y(level) + 3.5], number(level, told.quantity, system, { digits }), {
        key: `value ${level}`,
        class: "curve-number curve-value",
      }),
    ),
    h("path", { key: "frame", d: `M${x0} ${y1}V${px(y0)}H${x1}`, class: "curve-axis" }),
    ...alongOf(least, most, x, y0, system),
    ...dead.map((each, index) =>
      h("path", { key: `dead ${index}`, d: `M${px(x(each))} ${y1}V${y0}`, class: "dead-line" }, [
        h("title", { key: "title" }, "dead centre"),
      ]),
    ),
    ...lines.map(({ layer, hue }, index) =>
      h("path", {
        key: layer,
        d: pathOf(over.strokes[id], over.layers[layer], x, y),
        class: hue === undefined ? "curve" : `curve curve-hue hue-${hue}`,
        "stroke-dasharray": DASHES[index % DASHES.length] || null,
      }),
    ),
    ...lines.flatMap(({ layer }) => worstMark(over, layer, id, x, y)),
    ...nowMark(over, lines, id, at, x, y, [y1, y0], hand),
  ];
  const room = hand
    ? { "data-hand": true, "data-level": id, "data-ends": `${least} ${most}`, "data-box": `${x0} ${y0} ${x1} ${y1}` }
    : {};
  return h(
    "svg",
    {
      key: "svg",
      class: "curves",
      viewBox: `0 0 ${width} ${height}`,
      role: hand ? "group" : "img",
      "aria-label": label,
      ...room,
      ...attrs,
    },
    shapes,
  );
}

/**
 * The least and greatest that is shown: errors from nought, with their tolerance.
 * @param {Over} over @param {Told["lines"]} lines @param {Told} told @param {number|null} band
 * @returns {[number, number]}
 */
function heightOf(over, lines, told, band) {
  const ranges = lines.flatMap(({ layer }) => rangeOf(over.layers[layer]) ?? []);
  const [least, most] = rangeOf([...ranges, ...(band === null ? [] : [band])]) ?? [0, 1];
  const from = told.quantity === "error" || (least > 0 && least < 0.6 * most) ? 0 : least;
  const to = most < 0 && most > 0.6 * least ? 0 : most;
  const room = 0.07 * (to - from || Math.abs(to) || 1);
  return [from === 0 ? 0 : from - room, to === 0 && from < 0 ? 0 : to + room];
}

/** @param {[number, number]} along @param {number} zero @param {number} limit */
function bandOf([x0, x1], zero, limit) {
  const box = { x: x0, y: px(limit), width: px(x1 - x0), height: px(zero - limit) };
  return [
    h("rect", { key: "band", ...box, fill: "url(#hatch-tolerance)", class: "curve-band" }),
    line([x0, limit], [x1, limit], { key: "limit", class: "curve-limit" }),
  ];
}

/**
 * Both ends of the stroke, and as drawn where there is room between them.
 * @param {number} least @param {number} most @param {(move: number) => number} x @param {number} below
 * @param {System} system
 */
function alongOf(least, most, x, below, system) {
  const clear = least < 0 && most > 0 && Math.min(x(0) - x(least), x(most) - x(0)) > 44;
  const ends = /** @type {const} */ ([
    [least, "start"],
    [most, "end"],
    ...(clear ? /** @type {const} */ ([[0, "middle"]]) : []),
  ]);
  return ends.flatMap(([move, anchor]) => [
    line([x(move), below], [x(move), below + 4], { key: `tick ${anchor}`, class: "curve-axis" }),
    text([x(move), below + 14], number(move, "fine", system, { sign: true, digits: decimalsFor(1, system) }), {
      key: `move ${anchor}`,
      class: `curve-number at-${anchor}`,
    }),
  ]);
}

/**
 * @param {number[]} strokes @param {Float32Array} values @param {(move: number) => number} x
 * @param {(value: number) => number} y
 */
function pathOf(strokes, values, x, y) {
  /** @type {[number, number][][]} */
  const runs = [];
  let open = false;
  values.forEach((value, index) => {
    if (Number.isNaN(value)) {
      open = false;
      return;
    }
    if (!open) runs.push([]);
    open = true;
    runs[runs.length - 1].push([x(strokes[index]), y(value)]);
  });
  return runs.map((run) => through(run)).join("");
}

/**
 * @param {Over} over @param {string} layer @param {string} id @param {(move: number) => number} x
 * @param {(value: number) => number} y
 */
function worstMark(over, layer, id, x, y) {
  const worst = own(over.worst, layer);
  if (!worst) return [];
  const at = [x(own(worst.command, id) ?? 0), y(worst.value)];
  return [
    h("path", {
      key: `worst ${layer}`,
      d: `M${px(at[0] - 4)} ${px(at[1])}l4 -4l4 4l-4 4Z`,
      class: "curve-worst",
    }),
  ];
}

/**
 * Where the mount stands.
 * @param {Over} over @param {Told["lines"]} lines @param {string} id @param {number} at
 * @param {(move: number) => number} x @param {(value: number) => number} y @param {[number, number]} between
 * @param {string} [hand]
 */
function nowMark(over, lines, id, at, x, y, [top, below], hand) {
  const now = [
    line([x(at), top], [x(at), below], { key: "now", class: "curve-now" }),
    ...lines.flatMap(({ layer }) => {
      const value = valueAt(over.strokes[id], over.layers[layer], at);
      return Number.isNaN(value)
        ? []
        : [h("circle", { key: `now ${layer}`, cx: px(x(at)), cy: px(y(value)), r: 3.2, class: "curve-dot" })];
    }),
  ];
  if (!hand) return now;
  const [least, most] = endsOf(over, id);
  return [
    h(
      "g",
      {
        key: "hand",
        class: "plane-hand",
        role: "slider",
        tabindex: 0,
        "data-dot": true,
        "aria-label": `stroke of ${id} on the curves`,
        "aria-valuemin": least,
        "aria-valuemax": most,
        "aria-valuenow": at,
        "aria-valuetext": hand,
      },
      [
        h("rect", { key: "target", x: px(x(at) - 12), y: top, width: 24, height: below - top, class: "plane-target" }),
        ...now,
      ],
    ),
  ];
}

/**
 * A number between two strokes of a grid.
 * @param {number[]} strokes @param {ArrayLike<number>} values @param {number} at mm longer than drawn
 */
export function valueAt(strokes, values, at) {
  const cell = ((at - strokes[0]) / (strokes[strokes.length - 1] - strokes[0])) * (strokes.length - 1);
  const first = Math.min(Math.max(Math.floor(cell), 0), strokes.length - 2);
  return values[first] + (values[first + 1] - values[first]) * (cell - first);
}

/** What each line is. @param {Told} told */
export function legend(told) {
  return told.lines.map(({ words, hue }, index) =>
    h("span", { key: words, class: "curve-key" }, [
      h("svg", { key: "sample", class: "curve-sample", viewBox: "0 0 26 8", "aria-hidden": "true" }, [
        line([1, 4], [25, 4], {
          key: "line",
          class: hue === undefined ? "curve" : `curve curve-hue hue-${hue}`,
          "stroke-dasharray": DASHES[index % DASHES.length] || null,
        }),
      ]),
      h("span", { key: "words" }, words),
    ]),
  );
}
