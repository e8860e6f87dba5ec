/**
 * Pins, rods, cylinders and slides, in the symbols of kinematic diagrams (ISO 3952) and fluid power (ISO 1219).
 * @module sheet/marks/members
 */

import { bar, disc } from "../labels.js";
import { barring } from "../lettering.js";
import { h, px } from "../../values/shapes.js";

/** @param {import("../scene.js").Scene} scene */
export function members(scene) {
  const { mount } = scene;
  const shapes = mount.members.map((member) => {
    const marks = ["member", member.kind, `hue-${scene.hues.get(member.id)}`];
    if (scene.chosen === member.id) marks.push("chosen");
    if (scene.marked.has(member.id)) marks.push("marked");
    return h("g", { key: member.id, class: marks.join(" "), "data-member": member.id }, drawn(scene, member));
  });
  return [
    ...shapes,
    h(
      "g",
      { key: "joints" },
      mount.members.flatMap((member) => joints(scene, member)),
    ),
  ];
}

/** @param {import("../scene.js").Scene} scene @param {Member} member @returns {Shape[]} */
function drawn(scene, member) {
  switch (member.kind) {
    case "rod":
      return rod(scene, member);
    case "cylinder":
      return cylinder(scene, member);
    case "slide":
      return slide(scene, member);
    case "pin":
      return [];
  }
}

/** @param {import("../scene.js").Scene} scene @param {Linked} member */
function ends(scene, member) {
  return member.ends.map((end) => scene.place(end.on, end.at));
}

/** @param {import("../scene.js").Scene} scene @param {Rod} member */
function rod(scene, member) {
  const [a, b] = ends(scene, member);
  const d = `M${px(a[0])} ${px(a[1])}L${px(b[0])} ${px(b[1])}`;
  return [
    barring(h("path", { d, class: "rod-outside" }), bar("member", a, b, 4)),
    h("path", { d, class: "rod-inside" }),
  ];
}

/**
 * A cylinder to scale along its line: barrel, piston where the stroke has it, rod. Not narrower than can be seen.
 * @param {import("../scene.js").Scene} scene @param {Cylinder} member
 */
function cylinder(scene, member) {
  const [a, b] = ends(scene, member);
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const degrees = px((Math.atan2(b[1] - a[1], b[0] - a[0]) * 180) / Math.PI);
  const { scale } = scene.view;
  const half = Math.max((member.bore * scale) / 2, 7);
  const rodHalf = Math.max((member.rod * scale) / 2, 2.5);
  const head = Math.min(0.07 * member.retracted * scale + 8, length * 0.3);
  const barrel = Math.min(member.retracted * 0.9 * scale, length - 4);
  const out = Math.max(length / scale - member.retracted, 0) / member.stroke;
  const travel = Math.max(barrel - head - 10, 1);
  const piston = head + 5 + travel * Math.min(out, 1);
  return [
    barring(
      h("g", { transform: `translate(${px(a[0])} ${px(a[1])}) rotate(${degrees})` }, [
        h("path", { key: "eye", d: `M0 0H${px(head)}`, class: "cylinder-eye" }),
        h("rect", {
          key: "rod",
          x: px(piston),
          y: px(-rodHalf),
          width: px(Math.max(length - piston, 0)),
          height: px(2 * rodHalf),
          class: "piston-rod",
        }),
        h("rect", {
          key: "barrel",
          x: px(head),
          y: px(-half),
          width: px(Math.max(barrel - head, 1)),
          height: px(2 * half),
          rx: 1.5,
          class: "barrel",
        }),
        h("rect", { key: "piston", x: px(piston - 3), y: px(-half), width: 6, height: px(2 * half), class: "piston" }),
      ]),
      bar("member", a, b, half),
    ),
  ];
}

/**
 * A block that runs on a guide; the guide is hatched where it is fixed to the frame.
 * @param {import("../scene.js").Scene} scene
 * @param {Slide} member
 */
function slide(scene, member) {
  const [x, y] = scene.place(member.joins[1], member.at);
  const tip = [member.at[0] + member.direction[0], member.at[1] + member.direction[1]];
  const from = scene.place(member.joins[0], member.at);
  const to = scene.place(member.joins[0], /** @type {[number, number]} */ (tip));
  const degrees = px((Math.atan2(to[1] - from[1], to[0] - from[0]) * 180) / Math.PI);
  const [blade0, blade1] = [scene.mount.blade.left, scene.mount.blade.right];
  const reach = Math.max(0.055 * Math.hypot(blade1[0] - blade0[0], blade1[1] - blade0[1]) * scene.view.scale, 30);
  let hatch = "";
  for (let at = -reach + 4; at < reach; at += 8) hatch += `M${px(at)} -13l5 -6M${px(at)} 13l5 6`;
  const fixed = member.joins[0] === "frame";
  return [
    h("g", { transform: `translate(${px(from[0])} ${px(from[1])}) rotate(${degrees})` }, [
      h("path", { key: "guide", d: `M${px(-reach)} -13H${px(reach)}M${px(-reach)} 13H${px(reach)}`, class: "guide" }),
      h("path", { key: "hatch", d: fixed ? hatch : "", class: "fixed-hatch" }),
    ]),
    barring(
      h("g", { transform: `translate(${px(x)} ${px(y)}) rotate(${degrees})` }, [
        h("rect", { x: -16, y: -11, width: 32, height: 22, class: "block" }),
      ]),
      disc("joint", [x, y], 16),
    ),
  ];
}

/** @param {import("../scene.js").Scene} scene @param {Member} member */
function joints(scene, member) {
  const places = member.ends ? ends(scene, member) : [scene.place(member.joins[1], member.at)];
  const marked = scene.marked.has(member.id) ? " marked" : "";
  return places.map((/** @type {[number, number]} */ [x, y], /** @type {number} */ index) =>
    barring(
      h("circle", {
        key: `${member.id} ${index}`,
        cx: px(x),
        cy: px(y),
        r: member.kind === "pin" ? 6.5 : 5,
        class: `joint${marked}`,
      }),
      disc("joint", [x, y], 7),
    ),
  );
}
