/**
 * The stroke plane: one cylinder along it, another up it, a dot where the mount stands. Shaded by the worst error
 * within or beyond the tolerance, or by another number; over it the lines of equal height of either end. Level and
 * upright lines are ends of their own, slanted ones are coupling. With one cylinder, a curve over its stroke.
 * @module panels/strokeplane
 */

import { axesOf } from "../core/travel.js";
import { hues } from "../document/mount.js";
import { h, line, px, text } from "../values/shapes.js";
import { endsOf, metBy } from "../values/travel.js";
import { amount, decimals, number } from "../values/units.js";
import { own } from "../values/own.js";
import { chart } from "./curves.js";
import { BOX, along, frameOf, ground, shadeIn } from "./planeground.js";

/** @typedef {import("../core/store.js").State} State */
/** @typedef {import("../values/travel.js").Over} Over */

const [WIDTH, HEIGHT] = [204, 178];
/** Letters of a name that have room. */
const MOST_LETTERS = 22;

/** @param {State} state */
export function strokePlane(state) {
  const { mount, shownTravel, travel } = state;
  const axes = axesOf(mount, shownTravel);
  if (!axes.length) return [];
  const over = axes.length > 1 ? travel.plane : travel.curve;
  if (!over || over.cylinders.some((id, index) => id !== axes[index])) return [waiting(axes)];
  return axes.length > 1 ? [plane(state, over), table(state, over)] : [oneCurve(state, over)];
}

/** The same for the back row. @param {State} state */
export function planeOnWall(state) {
  const both = axesOf(state.mount, state.shownTravel).length > 1;
  return [
    h("h2", { key: "title", class: "board-title" }, both ? "Every height both cylinders can give" : "Over the stroke"),
    ...strokePlane(state),
    h(
      "p",
      { key: "words", class: "board-quiet" },
      both
        ? "Lines of equal height: left end whole, right dashed. Level and upright: each cylinder has its own end. " +
            "Slanted: coupling. Dotted: outside the tolerance."
        : "Left end whole, right end dashed; hatched: the tolerance.",
    ),
  ];
}

/** Nothing has come yet: the room is kept. @param {string[]} axes */
function waiting(axes) {
  return h("svg", { key: "svg", class: "plane", viewBox: `0 0 ${WIDTH} ${HEIGHT}`, "aria-hidden": "true" }, [
    h("path", { key: "frame", d: axes.length > 1 ? frameOf() : "", class: "plane-frame" }),
  ]);
}

/** @param {State} state @param {Over} over */
function oneCurve(state, over) {
  const [id] = over.cylinders;
  const { told } = shadeIn(state, over);
  const at = own(state.command, id) ?? 0;
  return chart({
    over,
    told,
    tolerance: state.mount.tolerance ?? null,
    at,
    dead: metBy(over, id, state.command),
    system: state.system,
    width: WIDTH,
    height: HEIGHT,
    hand: amount(at, "fine", state.system, { sign: true }),
    attrs: { class: "plane curves" },
  });
}

/** @param {State} state @param {Over} over */
function plane(state, over) {
  const { system, command, mount } = state;
  const [level, upright] = over.cylinders;
  const tones = hues(mount);
  const at = [own(command, level) ?? 0, own(command, upright) ?? 0];
  const [x, y] = [along(over, level, at[0], BOX.x0, BOX.x1), along(over, upright, at[1], BOX.y0, BOX.y1)];
  const ends = [endsOf(over, level), endsOf(over, upright)];
  const moves = [level, upright].map((id, index) => `${id} ${amount(at[index], "fine", system, { sign: true })}`);
  const stale = !state.answered?.pose;
  return h(
    "svg",
    {
      key: "svg",
      class: `plane${stale ? " stale" : ""}`,
      viewBox: `0 0 ${WIDTH} ${HEIGHT}`,
      role: "group",
      "aria-label": "stroke plane",
      "data-hand": true,
      "data-level": level,
      "data-upright": upright,
      "data-ends": [...ends[0], ...ends[1]].join(" "),
      "data-box": `${BOX.x0} ${BOX.y0} ${BOX.x1} ${BOX.y1}`,
    },
    [
      ground(state, over),
      name(level, [BOX.x1, HEIGHT - 4], tones.get(level) ?? 0, "→", "at-end"),
      name(upright, [BOX.x0, 11], tones.get(upright) ?? 0, "↑", "at-start"),
      ...edgeNumbers(ends, system),
      line([x, y], [x, BOX.y0], { key: "down", class: `plane-hair hue-${tones.get(level)}` }),
      line([x, y], [BOX.x0, y], { key: "across", class: `plane-hair hue-${tones.get(upright)}` }),
      h(
        "g",
        {
          key: "hand",
          class: "plane-hand",
          role: "slider",
          tabindex: 0,
          "data-dot": true,
          "aria-label": `where the mount stands: ${level} with left and right, ${upright} with up and down`,
          "aria-valuemin": ends[0][0],
          "aria-valuemax": ends[0][1],
          "aria-valuenow": at[0],
          "aria-valuetext": moves.join(", "),
        },
        [
          h("circle", { key: "target", cx: px(x), cy: px(y), r: 13, class: "plane-target" }),
          h("circle", { key: "dot", cx: px(x), cy: px(y), r: 5.5, class: "plane-dot" }),
        ],
      ),
    ],
  );
}

/** @param {string} id @param {[number, number]} at @param {number} hue @param {string} arrow @param {string} side */
function name(id, at, hue, arrow, side) {
  return h("text", { key: `name ${arrow}`, x: at[0], y: at[1], class: `plane-name hue-${hue} ${side}` }, [
    h("tspan", { key: "swatch", class: "plane-swatch" }, "■ "),
    h("tspan", { key: "words" }, `${id.length > MOST_LETTERS ? `${id.slice(0, MOST_LETTERS - 1)}…` : id} ${arrow}`),
  ]);
}

/** @param {[number, number][]} ends @param {System} system */
function edgeNumbers([level, upright], system) {
  const words = (/** @type {number} */ move) =>
    number(move, "fine", system, { sign: true, digits: decimals("length", system) });
  return [
    text([BOX.x0 - 4, BOX.y1 + 8], words(upright[1]), { key: "top", class: "curve-number at-end" }),
    text([BOX.x0 - 4, BOX.y0], words(upright[0]), { key: "bottom", class: "curve-number at-end" }),
    text([BOX.x0, BOX.y0 + 11], words(level[0]), { key: "least", class: "curve-number at-start" }),
    text([BOX.x1, BOX.y0 + 11], words(level[1]), { key: "most", class: "curve-number at-end" }),
  ];
}

/** A few of its numbers, for who does not see it. @type {WeakMap<Over, {key: string, shape: Shape}>} */
const tabled = new WeakMap();
const ROWS = [1, 0.75, 0.5, 0.25, 0];

/** @param {State} state @param {Over} over */
function table(state, over) {
  const { layer, label, told } = shadeIn(state, over);
  const { system } = state;
  const key = `${layer} ${system}`;
  const known = tabled.get(over);
  if (known?.key === key) return known.shape;
  const [rows, values] = over.shape;
  const [level, upright] = over.cylinders;
  const words = (/** @type {string} */ id, /** @type {number} */ share) =>
    amount(over.strokes[id][Math.round(share * (over.strokes[id].length - 1))], "fine", system, { sign: true });
  const value = (/** @type {number} */ up, /** @type {number} */ across) => {
    const found = over.layers[layer][Math.round(up * (rows - 1)) * values + Math.round(across * (values - 1))];
    return Number.isNaN(found) ? "cannot go there" : amount(found, told.quantity, system);
  };
  const shape = h("table", { key: "table", class: "only-spoken" }, [
    h("caption", { key: "caption" }, `${label} over the stroke plane`),
    h("thead", { key: "head" }, [
      h("tr", { key: "row" }, [
        h("th", { key: "corner", scope: "col" }, `${upright} (rows), ${level} (columns)`),
        ...[...ROWS].reverse().map((share) => h("th", { key: share, scope: "col" }, words(level, share))),
      ]),
    ]),
    h(
      "tbody",
      { key: "body" },
      ROWS.map((up) =>
        h("tr", { key: up }, [
          h("th", { key: "head", scope: "row" }, words(upright, up)),
          ...[...ROWS].reverse().map((across) => h("td", { key: across }, value(up, across))),
        ]),
      ),
    ),
  ]);
  tabled.set(over, { key, shape });
  return shape;
}
