/**
 * Outlines drawn by hand: they stand where their body does, in place of what would be made up for it.
 * @module sheet/marks/outlines
 */

import { cornerOf } from "../../document/outlines.js";
import { sidesOf } from "../labels.js";
import { barring } from "../lettering.js";
import { h, through } from "../../values/shapes.js";

/** @typedef {[number, number]} Pixel */

/**
 * The outlines of a body.
 * @param {Pick<import("../scene.js").Scene, "mount"|"place">} scene @param {string} body
 * @returns {{index: number, points: Pixel[]}[]}
 */
export function outlinesByHand(scene, body) {
  return (scene.mount.outlines ?? []).flatMap((each, index) =>
    each.body === body ? [{ index, points: each.points.map((at) => scene.place(body, at)) }] : [],
  );
}

/** Their shapes; a tap or Enter picks one. @param {import("../scene.js").Scene} scene @param {string} body */
export function outlineShapes(scene, body) {
  const picked = cornerOf(scene.picked)?.index;
  return outlinesByHand(scene, body).map(({ index, points }) =>
    barring(
      h(
        "path",
        {
          key: `outline ${index}`,
          d: through(points, true),
          class: `by-hand${body === "frame" ? " on-frame" : ""}${picked === index ? " picked" : ""}`,
          "data-outline": index,
          tabindex: 0,
          role: "button",
          "aria-label": `outline of ${body}`,
          "aria-pressed": String(picked === index),
        },
        [h("title", { key: "title" }, `outline of ${body}`)],
      ),
      ...sidesOf("outline", points, 1),
    ),
  );
}

/** Outlines on the frame, which lie under everything. @param {import("../scene.js").Scene} scene */
export function frameOutlines(scene) {
  return outlineShapes(scene, "frame");
}
