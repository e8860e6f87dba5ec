/**
 * Grid, horizontal datum and the fixed frame.
 * @module sheet/marks/ground
 */

import { jointId } from "../../values/joint.js";
import { RANK, around, disc } from "../labels.js";
import { barring, label } from "../lettering.js";
import { h, line, px } from "../../values/shapes.js";

/** @param {import("../scene.js").Scene} scene */
export function grid(scene) {
  const { view, size } = scene;
  let step = scene.grid;
  while (step * view.scale < 14) step *= step * view.scale < 3 ? 10 : 2;
  const [left, top] = view.invert([0, 0]);
  const [right, low] = view.invert([size.width, size.height]);
  let across = "";
  for (let x = Math.ceil(left / step) * step; x <= right; x += step)
    across += `M${px(view.apply([x, 0])[0])} 0V${size.height}`;
  for (let y = Math.ceil(low / step) * step; y <= top; y += step)
    across += `M0 ${px(view.apply([0, y])[1])}H${size.width}`;
  return [h("path", { d: across, class: "grid" })];
}

/** The height the edge was drawn at. @param {import("../scene.js").Scene} scene */
export function datum(scene) {
  const { left, right } = scene.mount.blade;
  const [x1, y] = scene.view.apply(left);
  const [x2] = scene.view.apply(right);
  return [line([x1 - 96, y], [x2 + 96, y], { class: "datum" })];
}

/**
 * Hatched ground under every joint on the frame (ISO 3952: a fixed pivot).
 * @param {import("../scene.js").Scene} scene
 */
export function frame(scene) {
  /** @type {import("../../values/shapes.js").Shape[]} */
  const shapes = [];
  for (const member of scene.mount.members) {
    if (member.ends) {
      member.ends.forEach((end, index) => {
        if (end.on !== "frame") return;
        const other = member.ends[1 - index];
        const away = angleBetween(scene.place(other.on, other.at), scene.place("frame", end.at));
        shapes.push(fixed(jointId(member.id, index + 1), scene.place("frame", end.at), away));
      });
    } else if (member.kind === "pin" && member.joins.includes("frame")) {
      shapes.push(fixed(member.id, scene.place("frame", member.at), -Math.PI / 2));
    }
  }
  return shapes;
}

/** @param {readonly [number, number]} from @param {readonly [number, number]} to */
function angleBetween(from, to) {
  const angle = Math.atan2(to[1] - from[1], to[0] - from[0]);
  return (Math.round(angle / (Math.PI / 2)) * Math.PI) / 2;
}

/**
 * Triangle from the pin to a hatched base line, standing away from the member.
 * @param {string} key @param {readonly [number, number]} at @param {number} away
 */
function fixed(key, at, away) {
  const degrees = px((away * 180) / Math.PI - 90);
  const middle = /** @type {[number, number]} */ ([at[0] + 13 * Math.cos(away), at[1] + 13 * Math.sin(away)]);
  return barring(
    h("g", { key, transform: `translate(${px(at[0])} ${px(at[1])}) rotate(${degrees})` }, [
      h("path", { d: "M0 0L-10 17H10Z", class: "fixed-foot" }),
      h("path", { d: "M-17 17H17", class: "fixed-base" }),
      h("path", { d: "M-15 24l6-7M-8 24l6-7M-1 24l6-7M6 24l6-7M13 24l4-5", class: "fixed-hatch" }),
    ]),
    disc("foot", middle, 20),
  );
}

/**
 * What a whole layer means, in a corner of the sheet.
 * @param {import("../scene.js").Scene} scene @param {string} name @param {string[]} words the fullest first
 */
export function caption({ size }, name, words) {
  const [left, right, top] = [20, size.width - 20, 14];
  const low = size.height - 14;
  const spots = [
    ...[0, 1, 2].flatMap((row) => around([left, low - 18 * row], ["right"], [0, 0])),
    ...[top, top + 18].flatMap((y) => around([left, y], ["right"], [0, 0])),
    ...[low, top].flatMap((y) => around([right, y], ["left"], [0, 0])),
  ];
  const wanted = { name: `caption ${name}`, spots, rank: RANK.caption, steps: 0 };
  return label(words, wanted, { key: `caption ${name}`, class: "caption" });
}
