/**
 * What the load and the play do at the picked joint, said at that joint.
 * @module sheet/marks/facts
 */

import { handle } from "../../document/mount.js";
import { RANK, around } from "../labels.js";
import { plate } from "../lettering.js";
import { h, line, px, text } from "../../values/shapes.js";
import { jointWords } from "../../values/words.js";
import { handlePixel } from "./handles.js";

const ROW = 16;
/** About the width of a letter, pixels. */
const LETTER = 6.4;
/** How far from its joint it stands, pixels, and how often it may be moved on. */
const AWAY = /** @type {const} */ ([24, 34]);
const STEPS = 12;

/** While a joint is moved its coordinates are shown instead. @param {import("../scene.js").Scene} scene */
export function jointFacts(scene) {
  const what = scene.picked && !scene.moving ? handle(scene.mount, scene.picked) : undefined;
  const words = what ? jointWords(what.name, scene.numbers, scene.detail, scene.system) : [];
  if (!what || !words.length) return [];
  const at = handlePixel(what, scene.mount, scene.place(what.body, what.at));
  const size = { width: Math.max(...words.map((each) => each.length)) * LETTER + 16, height: words.length * ROW + 8 };
  const [inward, outward] = at[0] < scene.size.width / 2 ? ["right", "left"] : ["left", "right"];
  const sides = /** @type {import("../labels.js").Side[]} */ ([
    ...["above", "below"].flatMap((upright) => [`${upright} ${inward}`, `${upright} ${outward}`]),
    ...[inward, outward, "above", "below"],
  ]);
  const spots = around(at, sides, AWAY);
  return [
    plate(size, { name: "facts", spots, rank: RANK.facts, keep: true, steps: STEPS }, ({ box: { x, y } }) => [
      line(at, [clamped(at[0], x, x + size.width), clamped(at[1], y, y + size.height)], {
        key: "leader",
        class: "fact-leader",
      }),
      h("rect", { key: "plate", x: px(x), y: px(y), ...size, rx: 3, class: "fact-plate" }),
      ...words.map((each, index) => text([x + 8, y + 16 + index * ROW], each, { key: index, class: "fact" })),
    ]),
  ];
}

/** @param {number} value @param {number} least @param {number} most */
function clamped(value, least, most) {
  return Math.min(Math.max(value, least), most);
}
