/**
 * Another mount over this one, in dashed lines: a change that is tried, or a mount a search found.
 * @module sheet/marks/ghost
 */

import { bodyShapes } from "./bodies.js";
import { h, px, through } from "../../values/shapes.js";

/** How far a joint has moved before it is shown that it did, pixels. */
const MOVED = 1.5;

/** @param {import("../scene.js").Scene} scene */
export function ghost(scene) {
  const { ghost: other } = scene;
  if (!other) return [];
  const joints = other.mount.members.flatMap((member) => jointsOf(other, member));
  const now = scene.mount.members.flatMap((member) => jointsOf(scene, member));
  const bodies = bodyShapes(other).flatMap(([, polygons]) => polygons.map((polygon) => through(polygon, true)));
  return [
    h("path", { key: "bodies", d: bodies.join(""), class: "tried-outline" }),
    ...other.mount.members.flatMap((member) => {
      if (!member.ends) return [];
      const ends = member.ends.map((end) => other.place(end.on, end.at));
      return [h("path", { key: `member ${member.id}`, d: through(ends), class: "tried-member" })];
    }),
    ...joints.flatMap(({ name, at }) => {
      const before = now.find((each) => each.name === name)?.at;
      const moved = !before || Math.hypot(before[0] - at[0], before[1] - at[1]) > MOVED;
      const dot = h("circle", { key: `joint ${name}`, cx: px(at[0]), cy: px(at[1]), r: 5.5, class: "tried-joint" });
      return before && moved
        ? [h("path", { key: `way ${name}`, d: through([before, at]), class: "tried-way" }), dot]
        : [dot];
    }),
  ];
}

/**
 * @param {Pick<import("../scene.js").Scene, "place">} standing @param {Member} member
 * @returns {{name: string, at: [number, number]}[]}
 */
function jointsOf({ place }, member) {
  if (!member.ends) return [{ name: member.id, at: place(member.joins[1], member.at) }];
  return member.ends.map((end, index) => ({ name: `${member.id} / ${index + 1}`, at: place(end.on, end.at) }));
}
