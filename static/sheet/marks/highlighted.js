/**
 * What a symbol of the working measures, highlighted on the sheet.
 * @module sheet/marks/highlighted
 */

import { RANK, around } from "../labels.js";
import { label } from "../lettering.js";
import { h, line, px } from "../../values/shapes.js";

/** @typedef {readonly [number, number]} Point */
/** @typedef {import("../../core/working.js").Highlight} Highlight */

const TICK = 9;

/** @param {import("../scene.js").Scene} scene */
export function highlighted(scene) {
  const { highlighted: what } = scene;
  if (!what) return [];
  const [a, b] = what.points.map((/** @type {Point} */ point) => scene.pixel(point));
  const apart = b ? Math.hypot(b[0] - a[0], b[1] - a[1]) : 0;
  const marks = { length: () => length(a, b), line: () => endless(scene, a, b), point: () => point(a) };
  const shapes = apart < 1 ? point(a) : marks[what.kind]();
  const middle = b && what.kind === "length" ? [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2] : a;
  return [
    h("g", { key: "highlighted", class: "highlighted", "data-kind": what.kind }, [
      ...shapes,
      words([middle[0], middle[1]], what),
    ]),
  ];
}

/** @param {Point} a @param {Point} b */
function length(a, b) {
  const size = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const [x, y] = [(-(b[1] - a[1]) / size) * TICK, ((b[0] - a[0]) / size) * TICK];
  const tick = (/** @type {Point} */ at) => `M${px(at[0] - x)} ${px(at[1] - y)}L${px(at[0] + x)} ${px(at[1] + y)}`;
  return [
    line(a, b, { key: "glow", class: "highlighted-glow" }),
    line(a, b, { key: "line", class: "highlighted-line" }),
    h("path", { key: "ticks", d: tick(a) + tick(b), class: "highlighted-tick" }),
  ];
}

/** @param {import("../scene.js").Scene} scene @param {Point} a @param {Point} b */
function endless(scene, a, b) {
  const size = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const far = (scene.size.width + scene.size.height) / size;
  const [x, y] = [(b[0] - a[0]) * far, (b[1] - a[1]) * far];
  return [line([a[0] - x, a[1] - y], [a[0] + x, a[1] + y], { key: "line", class: "highlighted-endless" }), ...point(a)];
}

/** @param {Point} at */
function point(at) {
  return [
    h("circle", { key: "glow", cx: px(at[0]), cy: px(at[1]), r: 13, class: "highlighted-glow" }),
    h("circle", { key: "ring", cx: px(at[0]), cy: px(at[1]), r: 13, class: "highlighted-ring" }),
  ];
}

/** @param {Point} at @param {Highlight} what */
function words(at, what) {
  const [name, index] = what.name.split("_");
  const letters = /** @type {Record<string, string>} */ ({ kappa: "κ", lambda: "λ", omega: "ω", Delta: "Δ" });
  const parts = [letters[name] ?? name, index ?? "", name ? ` = ${what.words}` : what.words];
  return label(
    parts.join(""),
    {
      name: "highlighted",
      spots: around(at, ["above", "below", "above right", "above left", "below right", "below left"], [16, 19]),
      rank: RANK.hand,
      keep: true,
    },
    { key: "words", class: "highlighted-words" },
    [
      h("tspan", { key: "name", class: "highlighted-name" }, parts[0]),
      h("tspan", { key: "index", dy: 4, class: "highlighted-index" }, parts[1]),
      h("tspan", { key: "value", dy: -4 }, parts[2]),
    ],
  );
}
