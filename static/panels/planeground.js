/**
 * What lies under the dot of a stroke plane: the shade, the lines of equal height, where the mount cannot go.
 * @module panels/planeground
 */

import { shadeOf } from "../core/travel.js";
import { areaBetween, areaWithout, linesAt, roundLevels } from "../values/contours.js";
import { shadesOf } from "../values/layers.js";
import { h, px, through } from "../values/shapes.js";
import { deadLines, endsOf, gridOf, rangeOf } from "../values/travel.js";
import { inward } from "../values/units.js";
import { own } from "../values/own.js";

/** @typedef {import("../core/store.js").State} State */
/** @typedef {import("../values/travel.js").Over} Over */

/** Where the plane lies in its drawing. */
export const BOX = { x0: 38, y0: 150, x1: 196, y1: 18 };
/** Lines of equal height at the most, over the height of both ends; bands of a shade at the most. */
const [MOST_LINES, MOST_BANDS] = [20, 6];

/** What the plane is shaded by, as far as it has come. @param {State} state @param {Over} over */
export function shadeIn({ mount, shownTravel }, over) {
  const wanted = shadeOf(mount, shownTravel.shade);
  const shades = shadesOf(mount);
  return (
    shades.find(({ layer }) => layer === wanted && (own(over.layers, layer) || over.shape[0] === 1)) ??
    /** @type {typeof shades[number]} */ (shades.find(({ layer }) => own(over.layers, layer)) ?? shades[0])
  );
}

/** @param {Over} over @param {string} id @param {number} move @param {number} from @param {number} to */
export function along(over, id, move, from, to) {
  const [least, most] = endsOf(over, id);
  return from + Math.min(Math.max((move - least) / (most - least), 0), 1) * (to - from);
}

/** The outline of the plane. */
export function frameOf() {
  return `M${BOX.x0} ${BOX.y1}H${BOX.x1}V${BOX.y0}H${BOX.x0}Z`;
}

/** What the plane of a travel was last drawn as. @type {WeakMap<Over, {key: string, shape: Shape}>} */
const drawn = new WeakMap();

/**
 * All but where the mount stands: the same shape while nothing of it changes.
 * @param {State} state @param {Over} over
 */
export function ground(state, over) {
  const shade = shadeIn(state, over);
  const key = JSON.stringify([shade.layer, state.system, state.mount.tolerance]);
  const known = drawn.get(over);
  if (known?.key === key) return known.shape;
  const shape = h("g", { key: "ground" }, [
    ...areas(over, shade.layer, state.mount.tolerance ?? null, state.system, shade.told),
    ...heights(over, state.system),
    ...deadLines(over).map((each, index) =>
      h("path", { key: `dead ${index}`, d: through(each.map(placed(over))), class: "dead-line" }),
    ),
    asDrawn(over),
    h("path", { key: "frame", d: frameOf(), class: "plane-frame" }),
  ]);
  drawn.set(over, { key, shape });
  return shape;
}

/**
 * From cells of the grid to the plane.
 * @param {Over} over @returns {(at: readonly [number, number]) => [number, number]}
 */
function placed({ shape: [rows, values] }) {
  const across = (BOX.x1 - BOX.x0) / (values - 1);
  const up = (BOX.y0 - BOX.y1) / (rows - 1);
  return ([x, y]) => [BOX.x0 + x * across, BOX.y0 - y * up];
}

/**
 * @param {Over} over @param {string} layer @param {number|null} tolerance @param {System} system
 * @param {import("../values/layers.js").Told} told
 */
function areas(over, layer, tolerance, system, told) {
  const grid = gridOf(over, layer);
  const reached = gridOf(over, "left");
  if (!grid || !reached) return [];
  const at = placed(over);
  const filled = (/** @type {[number, number][][]} */ shapes) =>
    shapes.map((each) => through(each.map(at), true)).join("");
  const nowhere = h("path", { key: "nowhere", d: filled(areaWithout(reached)), class: "plane-nowhere" });
  if (layer === "worst" && tolerance !== null) {
    const beyond = filled(areaBetween(grid, tolerance, Infinity));
    return [
      h("path", { key: "inside", d: filled(areaBetween(grid, -Infinity, tolerance)), class: "plane-inside" }),
      h("path", { key: "outside", d: beyond, class: "plane-outside" }),
      h("path", { key: "dots", d: beyond, class: "plane-dots" }),
      h("path", {
        key: "edge",
        d: linesAt(grid, tolerance)
          .map((each) => through(each.map(at)))
          .join(""),
        class: "plane-edge",
      }),
      nowhere,
    ];
  }
  const bands = bandsOf(grid.values, told, system);
  return [
    ...bands.map(({ from, to, tint }, index) =>
      h("path", {
        key: `band ${index}`,
        d: filled(areaBetween(grid, from, to)),
        class: "plane-band",
        "fill-opacity": px(tint),
      }),
    ),
    nowhere,
  ];
}

/**
 * Bands between round values, the darker the farther from nought.
 * @param {ArrayLike<number>} values @param {import("../values/layers.js").Told} told @param {System} system
 */
function bandsOf(values, told, system) {
  const [least, most] = rangeOf(Array.from(values)) ?? [0, 1];
  const { levels } = roundLevels(least, most, MOST_BANDS, inward(1, told.quantity, system));
  const marks = [-Infinity, ...levels, Infinity];
  const middles = marks.slice(1).map((to, index) => {
    const from = marks[index];
    return (Math.max(from, least) + Math.min(to, most)) / 2;
  });
  const sizes = middles.map(Math.abs);
  const [low, high] = [Math.min(...sizes), Math.max(...sizes)];
  return middles.map((_, index) => ({
    from: marks[index],
    to: marks[index + 1],
    tint: 0.05 + 0.45 * (high > low ? (sizes[index] - low) / (high - low) : 0),
  }));
}

/** The step between lines of equal height, mm. @param {Over} over @param {System} system */
export function heightStep(over, system) {
  const both = ["left", "right"].map((end) => rangeOf(over.layers[end]));
  const span = Math.max(...both.map((each) => (each ? each[1] - each[0] : 0)));
  return roundLevels(0, span, MOST_LINES, inward(1, "fine", system)).step;
}

/** @param {number} least @param {number} most @param {number} step */
function evenly(least, most, step) {
  const levels = [];
  for (let at = Math.ceil(least / step); at * step <= most; at += 1) levels.push(at * step);
  return levels;
}

/** Lines of equal height of either end. @param {Over} over @param {System} system */
function heights(over, system) {
  const at = placed(over);
  const step = heightStep(over, system);
  return /** @type {const} */ (["left", "right"]).map((end) => {
    const grid = gridOf(over, end);
    const range = rangeOf(over.layers[end]);
    const lines = grid && range ? evenly(...range, step).flatMap((level) => linesAt(grid, level)) : [];
    return h("path", {
      key: end,
      d: lines.map((each) => through(each.map(at))).join(""),
      class: `plane-height plane-height-${end}`,
    });
  });
}

/** Where it is as drawn. @param {Over} over */
function asDrawn(over) {
  const [level, upright] = over.cylinders;
  const [x, y] = [along(over, level, 0, BOX.x0, BOX.x1), along(over, upright, 0, BOX.y0, BOX.y1)];
  return h("path", { key: "drawn", d: `M${px(x - 4)} ${px(y)}h8M${px(x)} ${px(y - 4)}v8`, class: "plane-drawn" });
}
