/**
 * The blade, the other moving bodies, and the ghosts of the blade at its worst positions.
 * @module sheet/marks/bodies
 */

import { bodyNames } from "../../document/bodies.js";
import { RANK, around, bar, sidesOf } from "../labels.js";
import { barring, label } from "../lettering.js";
import { caption } from "./ground.js";
import { outlineShapes, outlinesByHand } from "./outlines.js";
import { h, px, through } from "../../values/shapes.js";

/** @typedef {readonly [number, number]} Point */

/**
 * The blade's outline as drawn, mm: a plate above the straight cutting edge.
 * @param {Pick<Blade, "left"|"right">} blade @returns {Point[]}
 */
export function outline(blade) {
  const along = [blade.right[0] - blade.left[0], blade.right[1] - blade.left[1]];
  const width = Math.hypot(along[0], along[1]);
  const u = [along[0] / width, along[1] / width];
  const up = [-u[1], u[0]];
  const height = 0.1 * width;
  /** @type {(s: number, t: number) => Point} */
  const at = (s, t) => [blade.left[0] + u[0] * s + up[0] * t, blade.left[1] + u[1] * s + up[1] * t];
  return [
    at(0, 0),
    at(width, 0),
    at(width, 0.55 * height),
    at(0.965 * width, height),
    at(0.035 * width, height),
    at(0, 0.55 * height),
  ];
}

/** @param {import("../scene.js").Scene} scene */
export function blade(scene) {
  const shape = outline(scene.mount.blade);
  const points = shape.map((point) => scene.place("blade", point));
  /** @type {import("../../values/shapes.js").Shape[]} */
  const shapes = outlineShapes(scene, "blade");
  if (!shapes.length) {
    const plate = h("path", { key: "plate", d: through(points, true), class: "blade" });
    shapes.push(...lugs(scene, shape), barring(plate, ...sidesOf("outline", points, 2)));
  }
  shapes.push(h("path", { key: "edge", d: through(points.slice(0, 2)), class: "edge" }));
  const { sensors } = scene.mount;
  if (sensors)
    for (const side of /** @type {const} */ (["left", "right"])) shapes.push(...sensor(scene, side, sensors[side]));
  return shapes;
}

/** What carries joints that stand above the plate. @param {import("../scene.js").Scene} scene @param {Point[]} shape */
function lugs(scene, shape) {
  return lugShapes(scene, shape).map(([at, drawn]) => {
    const points = drawn.map((point) => scene.place("blade", point));
    const post = h("path", { key: `lug ${at}`, d: through(points, true), class: "lug" });
    return barring(post, ...sidesOf("outline", points, 1));
  });
}

/**
 * @param {Pick<import("../scene.js").Scene, "mount"|"place">} scene @param {Point[]} shape
 * @returns {[Point, Point[]][]}
 */
function lugShapes(scene, shape) {
  const top = shape[4];
  const across = [shape[3][0] - top[0], shape[3][1] - top[1]];
  const width = Math.hypot(across[0], across[1]);
  const u = [across[0] / width, across[1] / width];
  /** @type {[Point, Point[]][]} */
  const found = [];
  for (const at of pointsOn(scene.mount, "blade")) {
    const s = (at[0] - top[0]) * u[0] + (at[1] - top[1]) * u[1];
    const t = -(at[0] - top[0]) * u[1] + (at[1] - top[1]) * u[0];
    if (t <= 0) continue;
    const half = Math.min(0.02 * width + 0.25 * t, 0.06 * width);
    const feet = [Math.max(0, s - half), Math.min(width, s + half)];
    if (feet[0] >= feet[1]) continue;
    const base = feet.map((each) => /** @type {Point} */ ([top[0] + u[0] * each, top[1] + u[1] * each]));
    found.push([at, [base[0], at, base[1]]]);
  }
  return found;
}

/** @param {import("../scene.js").Scene} scene @param {EndName} side @param {Point} at */
function sensor(scene, side, at) {
  const foot = footOf(scene.mount.blade, at);
  const [x, y] = scene.place("blade", at);
  const mast = /** @type {[Point, Point]} */ ([scene.place("blade", foot), [x, y]]);
  return [
    barring(h("path", { key: `mast ${side}`, d: through(mast), class: "mast" }), bar("member", ...mast)),
    h("path", { key: `sensor ${side}`, d: `M${px(x - 7)} ${px(y)}l7 -8l7 8l-7 8z`, class: "sensor" }),
  ];
}

/** The point of the blade's back under a point. @param {Blade} blade @param {Point} at @returns {Point} */
function footOf(blade, at) {
  const along = [blade.right[0] - blade.left[0], blade.right[1] - blade.left[1]];
  const width = Math.hypot(along[0], along[1]);
  const share = ((at[0] - blade.left[0]) * along[0] + (at[1] - blade.left[1]) * along[1]) / width ** 2;
  const s = Math.min(Math.max(share, 0.04), 0.96);
  const lift = 0.1;
  return [blade.left[0] + along[0] * s - along[1] * lift, blade.left[1] + along[1] * s + along[0] * lift];
}

/** Every joint's place on a body, as drawn. @param {Mount} mount @param {string} body @returns {Point[]} */
function pointsOn(mount, body) {
  /** @type {Point[]} */
  const found = [];
  for (const member of mount.members) {
    for (const end of member.ends ?? []) if (end.on === body) found.push(end.at);
    if (member.joins?.includes(body)) found.push(member.at);
  }
  return found;
}

/**
 * The outline of every moving body in pixels, the blade first.
 * @param {Pick<import("../scene.js").Scene, "mount"|"place">} scene @returns {[string, Point[][]][]}
 */
export function bodyShapes(scene) {
  const shape = outline(scene.mount.blade);
  const blade = shape.map((point) => scene.place("blade", point));
  const posts = lugShapes(scene, shape).map(([, points]) => points.map((point) => scene.place("blade", point)));
  const byHand = (/** @type {string} */ body) => outlinesByHand(scene, body).map((each) => each.points);
  const others = bodyNames(scene.mount).map((body) => {
    const drawn = byHand(body);
    if (drawn.length) return /** @type {[string, Point[][]]} */ ([body, drawn]);
    const points = pointsOn(scene.mount, body).map((point) => scene.place(body, point));
    return /** @type {[string, Point[][]]} */ ([body, points.length ? [hullOf(points)] : []]);
  });
  const plate = byHand("blade");
  return [["blade", plate.length ? plate : [blade, ...posts]], ...others];
}

/** Carriages, cranks: the hull of their joints. @param {import("../scene.js").Scene} scene */
export function others(scene) {
  return bodyNames(scene.mount).flatMap((body) => {
    const drawn = outlinesByHand(scene, body).flatMap((each) => each.points);
    const points = drawn.length ? drawn : pointsOn(scene.mount, body).map((point) => scene.place(body, point));
    if (!points.length) return [];
    const hull = hullOf(points);
    const middle = /** @type {[number, number]} */ (
      [0, 1].map((axis) => hull.reduce((sum, p) => sum + p[axis], 0) / hull.length)
    );
    if (drawn.length) return [...outlineShapes(scene, body), nameOf(body, hull, middle)];
    return [
      h("path", { key: `${body} outside`, d: through(hull, true), class: "body-outline" }),
      barring(h("path", { key: body, d: through(hull, true), class: "body" }), ...sidesOf("body", hull, 13)),
      nameOf(body, hull, middle),
    ];
  });
}

/**
 * A body's name, inside it where its joints and members leave room, else beside it.
 * @param {string} body @param {Point[]} hull @param {Point} middle
 */
function nameOf(body, hull, middle) {
  const [left, right] = [Math.min, Math.max].map((most) => most(...hull.map(([x]) => x)));
  const [top, low] = [Math.min, Math.max].map((most) => most(...hull.map(([, y]) => y)));
  const spots = [
    ...[nameSpot(hull, middle), middle].flatMap((at) => around(at, ["on"])),
    ...around([left, middle[1]], ["left"], [18, 0]),
    ...around([right, middle[1]], ["right"], [18, 0]),
    ...around([middle[0], top], ["above"], [0, 16]),
    ...around([middle[0], low], ["below"], [0, 16]),
  ];
  return label(
    body,
    { name: `body ${body}`, spots, rank: RANK.name, over: ["body"] },
    { key: `${body} name`, class: "body-name" },
  );
}

/**
 * A clear spot for a body's name: inside its longest side.
 * @param {Point[]} hull
 * @param {Point} middle
 * @returns {Point}
 */
function nameSpot(hull, middle) {
  let best = middle;
  let longest = 0;
  hull.forEach((a, index) => {
    const b = hull[(index + 1) % hull.length];
    const long = Math.hypot(b[0] - a[0], b[1] - a[1]);
    if (long <= longest) return;
    longest = long;
    best = [0.35 * (a[0] + b[0]) + 0.3 * middle[0], 0.35 * (a[1] + b[1]) + 0.3 * middle[1]];
  });
  return best;
}

/** Convex hull, Andrew's monotone chain. @param {Point[]} points @returns {Point[]} */
export function hullOf(points) {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  /** @type {(list: Point[]) => Point[]} */
  const half = (list) => {
    /** @type {Point[]} */
    const chain = [];
    for (const p of list) {
      while (chain.length > 1 && cross(chain[chain.length - 2], chain[chain.length - 1], p) <= 0) chain.pop();
      chain.push(p);
    }
    return chain.slice(0, -1);
  };
  const hull = [...half(sorted), ...half(sorted.reverse())];
  return hull.length ? hull : sorted.slice(0, 1);
}

/** @param {Point} o @param {Point} a @param {Point} b */
function cross(o, a, b) {
  return (a[0] - o[0]) * (b[1] - o[1]) - (a[1] - o[1]) * (b[0] - o[0]);
}

/**
 * The blade where the errors of the worse end put it highest and lowest, magnified.
 * @param {import("../scene.js").Scene} scene
 */
export function ghosts(scene) {
  const budget = scene.numbers?.budget;
  if (!budget) return [];
  const end = budget.left.worst > budget.right.worst ? "left" : "right";
  const shape = outline(scene.mount.blade).map((point) => scene.stand("blade", point));
  const [[x0], [x1]] = shape;
  return /** @type {const} */ (["blade_at_low", "blade_at_high"]).map((name) => {
    const lift = budget[end][name];
    const points = shape.map(([x, y]) => {
      const share = (x - x0) / (x1 - x0);
      return scene.pixel([x, y + scene.magnification * (lift.left + share * (lift.right - lift.left))]);
    });
    return h("path", { key: name, d: through(points, true), class: "ghost" });
  });
}

/** How much the ghosts are magnified. @param {import("../scene.js").Scene} scene */
export function ghostWords(scene) {
  const budget = scene.numbers?.budget;
  if (!budget || !Math.max(budget.left.worst, budget.right.worst)) return [];
  const end = budget.left.worst > budget.right.worst ? "left" : "right";
  const times = `${scene.magnification} : 1`;
  return [
    caption(scene, "ghosts", [
      `dashed: the blade with the ${end} end at its worst, ${times}`,
      `dashed: ${end} end at its worst, ${times}`,
    ]),
  ];
}
