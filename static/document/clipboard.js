/**
 * Members copied out of a mount and pasted into the same or another one, as text: with the bodies they take hold of,
 * the outlines of those, and what is held between them.
 * @module document/clipboard
 */

import { bodyNames, nameOf } from "./bodies.js";
import { splitJoint } from "../values/joint.js";
import { tidy } from "../values/tidy.js";
import { freeName } from "./edits.js";

/** What marks our text. */
const MARK = "blade mount members";

/**
 * @typedef {Object} Cutting
 * @property {string} holds
 * @property {Member[]} members
 * @property {(string|WeighedBody)[]} bodies
 * @property {BodyOutline[]} outlines
 * @property {Dimension[]} dimensions
 */

/** @param {Member} member @returns {string[]} */
function bodiesOf(member) {
  return member.joins ?? member.ends.map((end) => end.on);
}

/** @param {Mount} mount @param {Set<string>} chosen ids @returns {string} */
export function copiedText(mount, chosen) {
  const members = mount.members.filter((each) => chosen.has(each.id));
  const held = new Set(members.flatMap(bodiesOf));
  const bodies = (mount.bodies ?? []).filter((each) => held.has(nameOf(each)));
  const names = new Set(bodies.map(nameOf));
  /** @type {Cutting} */
  const cutting = {
    holds: MARK,
    members,
    bodies,
    outlines: (mount.outlines ?? []).filter((each) => names.has(each.body)),
    dimensions: (mount.dimensions ?? []).filter((each) =>
      each.between.every((joint) => chosen.has(splitJoint(joint)[0])),
    ),
  };
  return JSON.stringify(cutting);
}

/** What was copied, if a text is ours. @param {string} text @returns {Cutting|null} */
export function readCutting(text) {
  try {
    const found = JSON.parse(text);
    return found?.holds === MARK && Array.isArray(found.members) ? found : null;
  } catch {
    return null;
  }
}

/**
 * The mount with what was copied: under names that are free, on the bodies it has, where it was drawn; beside it where
 * something lies there already.
 * @param {Mount} mount @param {Cutting} cutting @param {number} by mm
 * @returns {Mount}
 */
export function pasted(mount, cutting, by) {
  const there = new Set(bodyNames(mount));
  const bodies = cutting.bodies.filter((each) => !there.has(nameOf(each)));
  const fresh = new Set(bodies.map(nameOf));
  const taken = mount.members.map((each) => each.id);
  const beside = cutting.members.some((each) => mount.members.some((other) => lieAlike(each, other))) ? by : 0;
  /** @type {Map<string, string>} */
  const names = new Map();
  const members = cutting.members.map((each) => {
    const id = taken.includes(each.id) ? freeName(each.id.replace(/ \d+$/, ""), taken) : each.id;
    taken.push(id);
    names.set(each.id, id);
    return shifted({ ...each, id }, beside);
  });
  const outlines = (cutting.outlines ?? []).filter((each) => fresh.has(each.body));
  const dimensions = (cutting.dimensions ?? []).map((each) => ({
    ...each,
    between: each.between.map((joint) => {
      const [id, end] = splitJoint(joint);
      return end ? `${names.get(id) ?? id} / ${end}` : (names.get(id) ?? id);
    }),
  }));
  return {
    ...mount,
    members: [...mount.members, ...members],
    ...(bodies.length ? { bodies: [...(mount.bodies ?? []), ...bodies] } : {}),
    ...(outlines.length ? { outlines: [...(mount.outlines ?? []), ...outlines] } : {}),
    ...(dimensions.length ? { dimensions: [...(mount.dimensions ?? []), ...dimensions] } : {}),
  };
}

/** @param {Member} member @returns {[number, number][]} */
function placesOf(member) {
  return member.ends ? member.ends.map((end) => end.at) : [member.at];
}

/** @param {Member} one @param {Member} other */
function lieAlike(one, other) {
  return one.kind === other.kind && JSON.stringify(placesOf(one)) === JSON.stringify(placesOf(other));
}

/** @param {Member} member @param {number} by mm to the right and down @returns {Member} */
function shifted(member, by) {
  const to = (/** @type {[number, number]} */ [x, y]) => /** @type {[number, number]} */ ([tidy(x + by), tidy(y - by)]);
  if (!member.ends) return { ...member, at: to(member.at) };
  return { ...member, ends: member.ends.map((end) => ({ ...end, at: to(end.at) })) };
}
