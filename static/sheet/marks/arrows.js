/**
 * Arrows at the joints: the forces there, and which way moving a pivot lowers the worst error.
 * @module sheet/marks/arrows
 */

import { handles } from "../../document/mount.js";
import { RANK, around, bar } from "../labels.js";
import { barring, label } from "../lettering.js";
import { caption } from "./ground.js";
import { h, px } from "../../values/shapes.js";
import { amount } from "../../values/units.js";

const ENDS = /** @type {const} */ (["left", "right"]);
const LONGEST = 76;

/** The force at every joint, to one scale. @param {import("../scene.js").Scene} scene */
export function reactions(scene) {
  const forces = scene.reactions ? scene.numbers?.forces : null;
  if (!forces) return [];
  const shown = Object.entries(forces).map(([name, each]) => ({
    name,
    force: each.together ?? each.load ?? each.weight,
  }));
  const most = Math.max(...shown.map(({ force }) => (force ? Math.hypot(...force) : 0)), 1e-9);
  const places = new Map(handles(scene.mount).map((each) => [each.name, each]));
  const shapes = shown.flatMap(({ name, force }) => {
    const each = places.get(name);
    const size = force ? Math.hypot(...force) : 0;
    if (!each || !force || size < most * 0.004) return [];
    const at = scene.place(each.body, each.at);
    const long = (LONGEST * size) / most;
    const u = [force[0] / size, -force[1] / size];
    const tip = /** @type {[number, number]} */ ([at[0] + u[0] * long, at[1] + u[1] * long]);
    const beyond = u[0] < -0.3 ? "left" : u[0] > 0.3 ? "right" : u[1] < 0 ? "above" : "below";
    return [
      barring(h("path", { key: name, d: arrowFrom(at, u, long), class: "reaction" }), bar("arrow", at, tip, 4)),
      label(
        amount(size, "force", scene.system),
        {
          name: `reaction ${name}`,
          spots: around(tip, [beyond, "right", "left", "above", "below"]),
          rank: RANK.asked,
        },
        { key: `${name} size`, class: "reaction-words" },
      ),
    ];
  });
  const load = Object.values(forces).some((each) => each.together)
    ? "weight and load"
    : "what is known of load and weight";
  return [
    ...shapes,
    caption(scene, "reactions", [
      `forces under ${load}, longest arrow ${amount(most, "force", scene.system)}`,
      `longest arrow ${amount(most, "force", scene.system)}`,
    ]),
  ];
}

/**
 * Which way each pivot lowers the worst error fastest, longest where it helps most.
 * @param {import("../scene.js").Scene} scene
 */
export function slopes(scene) {
  const improve = scene.slopes ? scene.detail?.improve : null;
  if (!improve) return [];
  const entries = Object.entries(improve.pivots).map(
    ([name, each]) => /** @type {[string, [number, number]]} */ ([name, each[improve.end]]),
  );
  const most = Math.max(...entries.map(([, slope]) => Math.hypot(...slope)), 1e-12);
  const places = new Map(handles(scene.mount).map((each) => [each.name, each]));
  return entries.flatMap(([name, slope]) => {
    const each = places.get(name);
    const size = Math.hypot(...slope);
    if (!each || size < most * 0.03) return [];
    const at = scene.place(each.body, each.at);
    const u = [-slope[0] / size, slope[1] / size];
    return [
      h("path", {
        key: name,
        d: arrowFrom([at[0] + u[0] * 11, at[1] + u[1] * 11], u, 14 + (30 * size) / most),
        class: "slope",
        "data-slope": name,
      }),
    ];
  });
}

/**
 * Where each joint lies at the true worst of the worse end: its offset, many times enlarged.
 * @param {import("../scene.js").Scene} scene
 */
export function offsets(scene) {
  const worst = scene.offsets ? scene.detail?.worst : null;
  if (!worst) return [];
  const all = ENDS.flatMap((end) => [worst[end].low, worst[end].high]).filter((each) => each !== null);
  if (!all.length) return [];
  const found = all.reduce((a, b) => (Math.abs(a.value) >= Math.abs(b.value) ? a : b));
  const entries = Object.entries(found.offsets);
  const most = Math.max(...entries.map(([, by]) => (Array.isArray(by) ? Math.hypot(...by) : Math.abs(by))), 1e-12);
  const places = new Map(handles(scene.mount).map((each) => [each.name, each]));
  const shapes = entries.flatMap(([name, by]) => {
    const each = places.get(name);
    const way = each && wayOf(scene, name, by);
    if (!each || !way) return [];
    const size = Math.hypot(...way);
    if (size < most * 0.01) return [];
    const at = scene.place(each.body, each.at);
    const u = [way[0] / size, -way[1] / size];
    return [
      h("path", {
        key: name,
        d: arrowFrom([at[0] + u[0] * 9, at[1] + u[1] * 9], u, 16 + (28 * size) / most),
        class: "offset",
        "data-offset": name,
      }),
    ];
  });
  const end = worst.left.low === found || worst.left.high === found ? "left" : "right";
  const longest = `longest arrow ${amount(most, "error", scene.system)}`;
  const words =
    `where each joint lies at the true worst of the ${end} end, ` +
    `${amount(found.value, "error", scene.system, { sign: true })}; ${longest}`;
  return [...shapes, caption(scene, "offsets", [words, longest])];
}

/**
 * An offset as a vector, mm: along a rod or cylinder away from its other end, square to a guide to the left of its way.
 * @param {import("../scene.js").Scene} scene @param {string} name @param {number|number[]} by
 */
function wayOf(scene, name, by) {
  if (Array.isArray(by)) return by;
  const [id, which] = name.split(" / ");
  const member = scene.mount.members.find((each) => each.id === id);
  if (!member) return null;
  if (member.ends) {
    const own = member.ends[Number(which) - 1];
    const other = member.ends[2 - Number(which)];
    const [a, b] = [scene.stand(own.on, own.at), scene.stand(other.on, other.at)];
    const size = Math.hypot(a[0] - b[0], a[1] - b[1]) || 1;
    return [(by * (a[0] - b[0])) / size, (by * (a[1] - b[1])) / size];
  }
  if (!member.direction) return null;
  const [x, y] = member.direction;
  const [from, to] = [
    scene.stand(member.joins[0], member.at),
    scene.stand(member.joins[0], [member.at[0] + x, member.at[1] + y]),
  ];
  const size = Math.hypot(to[0] - from[0], to[1] - from[1]) || 1;
  return [(-by * (to[1] - from[1])) / size, (by * (to[0] - from[0])) / size];
}

/** @param {readonly [number, number]} at @param {number[]} u @param {number} long */
function arrowFrom(at, u, long) {
  const tip = [at[0] + u[0] * long, at[1] + u[1] * long];
  const head = Math.min(9, long * 0.5);
  const neck = [tip[0] - u[0] * head, tip[1] - u[1] * head];
  const side = [-u[1] * head * 0.45, u[0] * head * 0.45];
  return (
    `M${px(at[0])} ${px(at[1])}L${px(neck[0])} ${px(neck[1])}M${px(neck[0] + side[0])} ` +
    `${px(neck[1] + side[1])}L${px(tip[0])} ${px(tip[1])}L${px(neck[0] - side[0])} ${px(neck[1] - side[1])}Z`
  );
}
