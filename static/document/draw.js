/**
 * What the drawing tools do to the document: pure functions from a mount to the next.
 * @module document/draw
 */

import { bodyNames, nameOf, renamed } from "./bodies.js";
import { usualPlay } from "./clearance.js";
import { freeName } from "./edits.js";
import { sizesFor } from "./lengths.js";
import { tidy } from "./mount.js";
import { vocabulary } from "../values/vocabulary.js";

/** @typedef {readonly [number, number]} Point */
/** @typedef {{body: string, at: Point}} Hold a place on a body, mm as drawn */
/** @typedef {import("./clearance.js").Usual} Usual */

/** @type {Usual} */
const NOTHING_KNOWN = { system: "metric", sizes: null };

/**
 * Tools: what each adds, and how many places it asks for.
 * @type {Record<string, {label: string, places: number, hint: string}>}
 */
export const TOOLS = {
  pin: { label: "pin", places: 1, hint: "Tap where two bodies share a pin." },
  rod: { label: "rod", places: 2, hint: "Tap the first end, then the second." },
  cylinder: { label: "cylinder", places: 2, hint: "Tap the barrel end, then the rod end." },
  slide: { label: "slide", places: 1, hint: "Tap the point that runs on the guide." },
  outline: {
    label: "outline",
    places: 3,
    hint: "Tap corner by corner; the first again, or Enter twice, closes it; Backspace takes one back.",
  },
  line: {
    label: "line",
    places: 1,
    hint: "Tap where the construction line or point goes: joints rest on it.",
  },
  hold: {
    label: "hold",
    places: 2,
    hint: "Tap two joints: what lies between them stays while others are moved.",
  },
  measure: {
    label: "measure",
    places: 2,
    hint: "Tap two joints or points: their distance stays on the sheet; again takes it away.",
  },
};

/** Whether a tool draws a member between two ends. @param {string|null} tool @returns {tool is Linked["kind"]} */
export function isLink(tool) {
  return tool !== null && vocabulary.members.some(({ kind, ends }) => kind === tool && ends.length > 0);
}

/** Whether a tool points at what is there and draws no member. @param {string} tool */
export function isPointed(tool) {
  return tool === "measure" || tool === "hold";
}

/** @param {Point} at @returns {[number, number]} */
export function place(at) {
  return [tidy(at[0]), tidy(at[1])];
}

/** @param {Mount} mount */
export function ids(mount) {
  return mount.members.map((each) => each.id);
}

/** @param {Mount} mount @param {Member} member @returns {Mount} */
function withMember(mount, member) {
  return { ...mount, members: [...mount.members, member] };
}

/**
 * @param {Mount} mount @param {"pin"|"slide"} kind @param {string} first the body that carries it @param {Hold} second
 * @param {Usual} [usual] what the sizes it is given are taken from
 * @returns {Mount}
 */
export function addJoint(mount, kind, first, second, usual = NOTHING_KNOWN) {
  const member = {
    kind,
    id: freeName(kind, ids(mount)),
    joins: [first, second.body],
    at: place(second.at),
    ...usualPlay(mount, usual),
  };
  return withMember(mount, /** @type {Member} */ (kind === "slide" ? { ...member, direction: [0, 1] } : member));
}

/**
 * @param {Mount} mount @param {Linked["kind"]} kind @param {Hold} first @param {Hold} second
 * @param {Usual} [usual] what the sizes it is given are taken from
 */
export function addLink(mount, kind, first, second, usual = NOTHING_KNOWN) {
  const ends = [first, second].map((hold) => ({ on: hold.body, at: place(hold.at), ...usualPlay(mount, usual) }));
  const member = { kind, id: freeName(kind, ids(mount)), ends };
  if (kind !== "cylinder") return withMember(mount, /** @type {Linked} */ (member));
  const length = Math.hypot(second.at[0] - first.at[0], second.at[1] - first.at[1]);
  return withMember(mount, /** @type {Cylinder} */ ({ ...member, ...sizesFor(length, usual.system) }));
}

/** @param {Mount} mount */
export function addBody(mount) {
  const name = freeName("body", bodyNames(mount));
  return { mount: { ...mount, bodies: [...(mount.bodies ?? []), name] }, name };
}

/** The body and every member that takes hold of it. @param {Mount} mount @param {string} body @returns {Mount} */
export function withoutBody(mount, body) {
  const members = mount.members.filter((each) => !bodiesOf(each).includes(body));
  return { ...mount, bodies: (mount.bodies ?? []).filter((each) => nameOf(each) !== body), members };
}

/** @param {Mount} mount @param {string} from @param {string} to @returns {Mount} */
export function renamedBody(mount, from, to) {
  const swap = (/** @type {string} */ body) => (body === from ? to : body);
  const members = mount.members.map((each) =>
    each.joins
      ? { ...each, joins: each.joins.map(swap) }
      : { ...each, ends: each.ends.map((end) => ({ ...end, on: swap(end.on) })) },
  );
  const bodies = (mount.bodies ?? []).map((each) => renamed(each, swap(nameOf(each))));
  const outlines = mount.outlines?.map((each) => ({ ...each, body: swap(each.body) }));
  return { ...mount, bodies, members, ...(outlines ? { outlines } : {}) };
}

/** @param {Member} member @returns {string[]} */
export function bodiesOf(member) {
  return member.joins ?? member.ends.map((end) => end.on);
}

/** @param {Mount} mount @param {Set<string>} gone ids @returns {Mount} */
export function withoutMembers(mount, gone) {
  return { ...mount, members: mount.members.filter((each) => !gone.has(each.id)) };
}

/** The vertical line about which a mount's sides are alike. @param {Mount} mount */
export function middleOf(mount) {
  return (mount.blade.left[0] + mount.blade.right[0]) / 2;
}
