/**
 * Arrows at the joints: the forces there, and which way moving a pivot lowers the worst error.
 * @module sheet/marks/arrows
 */

import { handles } from "../../document/mount.js";
import { h, px, text } from "../../values/shapes.js";
import { amount } from "../../values/units.js";

const LONGEST = 76;

/** The force at every joint, to one scale. @param {import("../scene.js").Scene} scene */
export function reactions(scene) {
  const forces = scene.reactions ? scene.numbers?.forces : null;
  if (!forces) return [];
  const shown = Object.entries(forces).map(([name, each]) => [name, each.together ?? each.load ?? each.weight]);
  const most = Math.max(...shown.map(([, force]) => (force ? Math.hypot(...force) : 0)), 1e-9);
  const places = new Map(handles(scene.mount).map((each) => [each.name, each]));
  const shapes = shown.flatMap(([name, force]) => {
    const each = places.get(name);
    const size = force ? Math.hypot(...force) : 0;
    if (!each || size < most * 0.004) return [];
    const at = scene.place(each.body, each.at);
    const long = (LONGEST * size) / most;
    const u = [force[0] / size, -force[1] / size];
    return [
      h("path", { key: name, d: arrowFrom(at, u, long), class: "reaction" }),
      text(
        [at[0] + u[0] * (long + 8) + (Math.abs(u[0]) < 0.3 ? 12 : 0), at[1] + u[1] * (long + 8) + 4],
        amount(size, "force", scene.system),
        { key: `${name} size`, class: u[0] < -0.3 ? "reaction-words before" : "reaction-words" },
      ),
    ];
  });
  const load = Object.values(forces).some((/** @type {any} */ each) => each.together)
    ? "weight and load"
    : "what is known of load and weight";
  return [
    ...shapes,
    text([20, scene.size.height - 26], `forces under ${load}, longest arrow ${amount(most, "force", scene.system)}`, {
      key: "scale",
      class: "caption",
    }),
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
