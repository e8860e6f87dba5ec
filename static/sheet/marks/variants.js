/**
 * Other variants of the mount as ghosts: thin outlines of their bodies and members, each with its name.
 * @module sheet/marks/variants
 */

import { shortened } from "../../document/families.js";
import { RANK, around } from "../labels.js";
import { label } from "../lettering.js";
import { bodyShapes } from "./bodies.js";
import { h, px, through } from "../../values/shapes.js";

/** @typedef {readonly [number, number]} Point */
/** @typedef {import("../scene.js").VariantGhost} VariantGhost */

/** Half as wide as the barrel of a ghost's cylinder is, pixels; how much of the length it takes. */
const BARREL = { half: 5, share: 0.62 };
/** A name is cut where it has no room: to so many letters. */
const SHORT = 22;
/** So many kinds of line tell the ghosts apart. */
const LINES = 4;

/** @param {import("../scene.js").Scene} scene */
export function variantGhosts(scene) {
  return scene.variants.flatMap((ghost, index) => {
    const line = `variant-ghost variant-${index % LINES}`;
    const bodies = bodyShapes(ghost).flatMap(([, polygons]) => polygons.map((polygon) => through(polygon, true)));
    return [
      h("path", { key: `variant ${ghost.id}`, class: line, d: [...bodies, ...membersOf(ghost)].join("") }),
      nameOf(ghost, index),
    ];
  });
}

/** @param {VariantGhost} ghost @returns {string[]} a path a member */
function membersOf({ mount, place }) {
  return mount.members.map((member) => {
    if (!member.ends) return ring(place(member.joins[0], member.at));
    const [a, b] = member.ends.map((end) => place(end.on, end.at));
    return (member.kind === "cylinder" ? cylinder(a, b) : through([a, b])) + ring(a) + ring(b);
  });
}

/** @param {Point} at */
function ring([x, y]) {
  return `M${px(x - 4)} ${px(y)}a4 4 0 1 0 8 0a4 4 0 1 0 -8 0`;
}

/** @param {Point} a @param {Point} b */
function cylinder(a, b) {
  const long = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
  const u = [(b[0] - a[0]) / long, (b[1] - a[1]) / long];
  /** @type {(along: number, across: number) => Point} */
  const at = (along, across) => [a[0] + u[0] * along - u[1] * across, a[1] + u[1] * along + u[0] * across];
  const { half, share } = BARREL;
  const end = share * long;
  return through([at(0, half), at(end, half), at(end, -half), at(0, -half)], true) + through([at(end, 0), b]);
}

/** Its name, at the first of its own places that has room. @param {VariantGhost} ghost @param {number} index */
function nameOf({ id, title, mount, place }, index) {
  const ends = [mount.blade.left, mount.blade.right].map((end) => place("blade", end));
  const joints = mount.members.flatMap((member) => (member.ends ?? []).map((end) => place(end.on, end.at)));
  const spots = [
    ...around(ends[index % 2], ["below right", "below left", "below"], [6, 12]),
    ...around(ends[(index + 1) % 2], ["below left", "below right", "below"], [6, 12]),
    ...joints.flatMap((at) => around(at, ["right", "left", "above"], [12, 8])),
  ];
  return label(
    [title, shortened(title, SHORT)],
    { name: `variant ${id}`, spots, rank: RANK.name },
    { key: `variant name ${id}`, class: "variant-name" },
  );
}
