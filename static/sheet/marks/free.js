/**
 * Boxes that pivots may stand in, and small padlocks on what is locked.
 * @module sheet/marks/free
 */

import { boxCorners, lockedJoints } from "../../document/free.js";
import { padlock } from "./held.js";
import { explained, h, through } from "../../values/shapes.js";

/** Where a padlock stands beside its joint, pixels. */
const BESIDE = 14;

/** @param {import("../scene.js").Scene} scene */
export function freeBoxes({ mount, wishes, place }) {
  return wishes.boxes.flatMap((box) =>
    boxCorners(mount, box).map(({ joint, body, mirrored, corners: [[x0, y0], [x1, y1]] }) => {
      const points = /** @type {[number, number][]} */ ([
        [x0, y0],
        [x1, y0],
        [x1, y1],
        [x0, y1],
      ]).map((at) => place(body, at));
      return h("path", {
        key: `box ${box.joint} ${joint}`,
        d: through(points, true),
        class: mirrored ? "free-box along" : "free-box",
        "data-free-box": joint,
      });
    }),
  );
}

/** @param {import("../scene.js").Scene} scene */
export function locks({ mount, wishes, place }) {
  return lockedJoints(mount, wishes.locked).map(({ name, label, body, at }) => {
    const [x, y] = place(body, at);
    const lock = padlock([x - BESIDE, y - BESIDE]);
    return explained(`${label}: locked`, {
      ...lock,
      attrs: { ...lock.attrs, key: `lock ${name}`, "data-locked": name },
    });
  });
}
