/**
 * What the load and the play do at the picked joint, said at that joint.
 * @module sheet/marks/facts
 */

import { handle, handles } from "../../document/mount.js";
import { h, line, px, text } from "../../values/shapes.js";
import { jointWords } from "../../values/words.js";
import { handlePixel } from "./handles.js";

/** @typedef {readonly [number, number]} Point */

const ROW = 16;
/** About the width of a letter, pixels. */
const LETTER = 6.4;
const AWAY = [24, 34];

/** While a joint is moved its coordinates are shown instead. @param {import("../scene.js").Scene} scene */
export function jointFacts(scene) {
  const what = scene.picked && !scene.moving && !scene.quiz ? handle(scene.mount, scene.picked) : undefined;
  const words = what ? jointWords(what.name, scene.numbers, scene.detail, scene.system) : [];
  if (!what || !words.length) return [];
  const at = handlePixel(what, scene.mount, scene.place(what.body, what.at));
  const size = { width: Math.max(...words.map((each) => each.length)) * LETTER + 16, height: words.length * ROW + 8 };
  const corner = clearest(scene, at, size);
  return [
    line(
      at,
      [
        Math.min(Math.max(at[0], corner[0]), corner[0] + size.width),
        Math.min(Math.max(at[1], corner[1]), corner[1] + size.height),
      ],
      { key: "leader", class: "fact-leader" },
    ),
    h("rect", { key: "plate", x: px(corner[0]), y: px(corner[1]), ...size, rx: 3, class: "fact-plate" }),
    ...words.map((each, index) =>
      text([corner[0] + 8, corner[1] + 16 + index * ROW], each, { key: index, class: "fact" }),
    ),
  ];
}

/**
 * The place beside a joint that lies on the sheet and covers the fewest other joints.
 * @param {import("../scene.js").Scene} scene
 * @param {Point} at
 * @param {{width: number, height: number}} size
 * @returns {Point} upper left
 */
function clearest(scene, at, { width, height }) {
  const joints = handles(scene.mount).map((each) => handlePixel(each, scene.mount, scene.place(each.body, each.at)));
  const inward = at[0] < scene.size.width / 2 ? 1 : -1;
  const places = [-1, 1].flatMap((up) =>
    [inward, -inward].map(
      (way) =>
        /** @type {Point} */ ([
          Math.min(Math.max(way > 0 ? at[0] + AWAY[0] : at[0] - AWAY[0] - width, 4), scene.size.width - width - 4),
          up < 0 ? at[1] - AWAY[1] - height : at[1] + AWAY[1],
        ]),
    ),
  );
  /** @type {(place: Point) => number} */
  const cost = ([x, y]) => {
    const off = Math.max(0, 4 - y) + Math.max(0, y + height + 4 - scene.size.height);
    const covered = joints.filter(
      ([jx, jy]) => jx > x - 10 && jx < x + width + 10 && jy > y - 10 && jy < y + height + 10,
    ).length;
    return off + covered;
  };
  return places.reduce((best, each) => (cost(each) < cost(best) ? each : best));
}
