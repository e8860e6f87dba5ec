/**
 * Another blade width for a mount: what is carried along, what is scaled and what stays is chosen, and said.
 * @module pages/compare/widening
 */

import { carriedPoint } from "./differences.js";
import { tidy } from "../../document/mount.js";
import { h } from "../../values/shapes.js";
import { amount } from "../../values/units.js";

/** @typedef {{mass: "metre"|"stays", sensors: "ends"|"stay", members: "stay"|"width"}} Carry */
/** @typedef {readonly [number, number]} Point */

/** A wider blade weighs more and carries its sensors farther out; where it is held is the machine's. @type {Carry} */
export const USUAL = { mass: "metre", sensors: "ends", members: "stay" };

/** @type {{key: keyof Carry, label: string, choices: [string, string][]}[]} */
const CHOICES = [
  {
    key: "mass",
    label: "mass",
    choices: [
      ["metre", "by length"],
      ["stays", "stays"],
    ],
  },
  {
    key: "sensors",
    label: "sensors",
    choices: [
      ["ends", "go with the ends"],
      ["stay", "stay"],
    ],
  },
  {
    key: "members",
    label: "cylinders and pins",
    choices: [
      ["stay", "stay"],
      ["width", "go with the width"],
    ],
  },
];

/** @param {Carry} carry @returns {import("../../values/shapes.js").Shape[]} */
export function carryFields(carry) {
  const fields = CHOICES.map(({ key, label, choices }) =>
    h("label", { key, class: "both-field" }, [
      h("span", { key: "l", class: "quiet" }, label),
      h(
        "select",
        { key: "s", "data-carry": key, "aria-label": `${label} where the blade gets another width` },
        choices.map(([value, words]) => h("option", { key: value, value, selected: carry[key] === value }, words)),
      ),
    ]),
  );
  return [h("span", { key: "lead", class: "both-lead" }, "At another width:"), ...fields];
}

/** @param {Mount} mount */
export function widthOf({ blade: { left, right } }) {
  return tidy(Math.hypot(right[0] - left[0], right[1] - left[1]));
}

/**
 * Both ends moved alike along the edge; a load at an end stays at that end.
 * @param {Mount} mount @param {number} width mm @param {Carry} carry @returns {Mount}
 */
export function widened(mount, width, carry) {
  const { blade, load, sensors } = mount;
  const share = width / widthOf(mount);
  const middle = [0, 1].map((axis) => (blade.left[axis] + blade.right[axis]) / 2);
  /** @type {(at: Point) => [number, number]} */
  const out = (at) => [tidy(middle[0] + share * (at[0] - middle[0])), tidy(middle[1] + share * (at[1] - middle[1]))];
  const ends = { left: out(blade.left), right: out(blade.right) };
  const next = { ...blade, ...ends };
  const along = (/** @type {Point} */ at) => carriedPoint(at, blade, next);
  const atEnd =
    load && [blade.left, blade.right].find((end) => Math.hypot(end[0] - load.at[0], end[1] - load.at[1]) < 1e-6);
  const heavier = carry.mass === "metre" && blade.mass;
  return {
    ...mount,
    blade: {
      ...next,
      ...(heavier ? { mass: tidy(Number(blade.mass) * share) } : {}),
      ...(heavier && blade.mass_centre ? { mass_centre: along(blade.mass_centre) } : {}),
    },
    ...(load && atEnd ? { load: { ...load, at: out(atEnd) } } : {}),
    ...(sensors && carry.sensors === "ends"
      ? { sensors: { left: along(sensors.left), right: along(sensors.right) } }
      : {}),
    ...(carry.members === "width" ? { members: mount.members.map((each) => moved(each, along)) } : {}),
  };
}

/**
 * A member whose joints go with the width; a cylinder keeps how far it is out.
 * @param {Member} member @param {(at: Point) => [number, number]} along @returns {Member}
 */
function moved(member, along) {
  if (!member.ends) return { ...member, at: along(member.at) };
  const ends = member.ends.map((end) => ({ ...end, at: along(end.at) }));
  const length = (/** @type {readonly {at: Point}[]} */ [a, b]) => Math.hypot(a.at[0] - b.at[0], a.at[1] - b.at[1]);
  const grown = length(ends) - length(member.ends);
  const body = "retracted" in member ? { retracted: tidy(member.retracted + grown) } : {};
  return /** @type {Member} */ ({ ...member, ...body, ends });
}

/**
 * What another width did to a mount, in words.
 * @param {string} name A or B @param {Mount} before @param {Mount} after @param {Carry} carry @param {System} system
 */
export function widenedWords(name, before, after, carry, system) {
  const width = (/** @type {Mount} */ mount) => amount(widthOf(mount), "fine", system);
  const words = [`${name}: blade ${width(before)} to ${width(after)} wide.`];
  const [was, now] = [before.blade.mass, after.blade.mass];
  if (was && now)
    words.push(
      was === now
        ? `Its mass stays ${amount(now, "mass", system)}: the wider or narrower blade weighs the same.`
        : `Mass by length: ${amount(was, "mass", system)} to ${amount(now, "mass", system)}.`,
    );
  if (after.sensors)
    words.push(carry.sensors === "ends" ? "Sensors go with the ends." : "Sensors stay where they were.");
  words.push(
    carry.members === "width"
      ? "Cylinders, rods and pins go with the width; bores and strokes stay."
      : "Cylinders, rods and pins stay where they were.",
  );
  return words.join(" ");
}
