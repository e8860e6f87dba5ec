/**
 * What can be taken hold of: a target on every joint, at least 24 px across, 44 px under a finger.
 * @module sheet/marks/handles
 */

import { handle, handles, isLoad, loadSize } from "../../document/mount.js";
import { lineHandle, lineOf } from "../../document/construction.js";
import { directionBeside, directionHandle, directionOf } from "../../document/direction.js";
import { cornerHandles, cornerOf } from "../../document/outlines.js";
import { RANK, around } from "../labels.js";
import { plate } from "../lettering.js";
import { h, px, text } from "../../values/shapes.js";
import { amount } from "../../values/units.js";
import { LOAD_LENGTH } from "./loads.js";

const COARSE = matchMedia("(pointer: coarse)");

/** Radius of a target, pixels. */
export function targetRadius() {
  return COARSE.matches ? 22 : 13;
}

/** How far down its arrow the load is taken hold of, of the arrow's length: beside the end it may stand on. */
const ON_SHAFT = 0.5;

/**
 * Where a handle is taken hold of: at its place, the load by its arrow, which it is turned by at the tail.
 * @param {import("../../document/mount.js").Handle} each
 * @param {Mount} mount
 * @param {[number, number]} at pixels of its place
 * @returns {[number, number]}
 */
export function handlePixel(each, mount, at) {
  if (!isLoad(each.name) || !mount.load) return at;
  const [fx, fy] = mount.load.force;
  const size = Math.hypot(fx, fy) || 1;
  const back = each.name === "load/at" ? ON_SHAFT * LOAD_LENGTH : LOAD_LENGTH;
  return [at[0] - (fx / size) * back, at[1] + (fy / size) * back];
}

/** @param {import("../scene.js").Scene} scene */
export function handleTargets(scene) {
  const radius = targetRadius();
  const outline = cornerOf(scene.picked);
  const corners = outline ? cornerHandles(scene.mount, outline.index) : [];
  const turning = directionHandle(scene.mount, directionBeside(scene.mount, scene.picked));
  const line = lineHandle(scene.mount, lineOf(scene.picked) ?? -1);
  return [...handles(scene.mount), ...corners, ...(line ? [line] : []), ...(turning ? [turning] : [])].map((each) => {
    const [x, y] = handlePixel(each, scene.mount, scene.place(each.body, each.at));
    const picked = scene.picked === each.name || scene.selected.includes(each.name);
    const where = `x ${amount(each.at[0], "fine", scene.system)}, y ${amount(each.at[1], "fine", scene.system)}`;
    return h(
      "g",
      {
        key: each.name,
        class: picked ? "handle picked" : "handle",
        transform: `translate(${px(x)} ${px(y)})`,
        "data-handle": each.name,
        tabindex: 0,
        role: "button",
        "aria-pressed": picked ? "true" : "false",
        "aria-label": `${each.label}, ${where}; arrow keys move it`,
      },
      [
        h("circle", { key: "target", r: radius, class: "handle-target" }),
        h("circle", { key: "ring", r: 10, class: "handle-ring" }),
        ...(cornerOf(each.name) || lineOf(each.name) !== null || directionOf(each.name) !== null
          ? [h("rect", { key: "corner", x: -4, y: -4, width: 8, height: 8, class: "corner" })]
          : []),
      ],
    );
  });
}

/** The coordinates of what is being moved. @param {import("../scene.js").Scene} scene */
export function coordinates(scene) {
  const each = scene.moving && scene.picked ? handle(scene.mount, scene.picked) : undefined;
  if (!each) return [];
  const at = handlePixel(each, scene.mount, scene.place(each.body, each.at));
  const words =
    each.name === "load/turn" && scene.mount.load
      ? amount(loadSize(scene.mount.load).degrees, "angle", scene.system, { digits: 0 })
      : `${amount(each.at[0], "fine", scene.system)}, ${amount(each.at[1], "fine", scene.system)}`;
  const size = { width: words.length * 8.4 + 8, height: 22 };
  const spots = around(at, ["above right", "above left", "below right", "below left"], [20, 14]);
  return [
    plate(size, { name: "coordinates", spots, rank: RANK.hand, keep: true }, ({ box: { x, y } }) => [
      h("rect", { key: "plate", x: px(x), y: px(y), ...size, rx: 3, class: "coordinates-plate" }),
      text([x + size.width / 2, y + 16], words, { key: "words", class: "coordinates" }),
    ]),
  ];
}
