/**
 * Construction lines and points: thin and chain-dotted, under everything that is drawn. A tap or Enter picks one.
 * @module sheet/marks/construction
 */

import { lineOf, runOf } from "../../document/construction.js";
import { h, line, px } from "../../values/shapes.js";

/** @param {import("../scene.js").Scene} scene */
export function construction(scene) {
  const picked = lineOf(scene.picked);
  const far = 2 * (scene.size.width + scene.size.height);
  return (scene.mount.construction ?? []).map(({ at, angle }, index) => {
    const [x, y] = scene.pixel(at);
    const isLine = typeof angle === "number";
    const [dx, dy] = runOf(isLine ? angle : 0);
    const reach = far + Math.hypot(x, y);
    /** @type {[[number, number], [number, number]]} */
    const ends = [
      [x - reach * dx, y + reach * dy],
      [x + reach * dx, y - reach * dy],
    ];
    return h(
      "g",
      {
        key: `construction ${index}`,
        class: picked === index ? "construction picked" : "construction",
        "data-construction": index,
        tabindex: 0,
        role: "button",
        "aria-pressed": String(picked === index),
        "aria-label": `construction ${isLine ? "line" : "point"} ${index + 1}`,
      },
      isLine
        ? [
            line(...ends, { key: "target", class: "construction-target" }),
            line(...ends, { key: "line", class: "chain" }),
          ]
        : [
            h("circle", { key: "target", cx: px(x), cy: px(y), r: 12, class: "construction-target" }),
            h("path", { key: "cross", d: `M${px(x - 8)} ${px(y)}h16M${px(x)} ${px(y - 8)}v16`, class: "chain-point" }),
          ],
    );
  });
}
