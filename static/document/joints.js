/**
 * The joints of a mount: what they are called in the document's answers, and by a reader.
 * @module document/joints
 */

import { memberKind } from "../values/vocabulary.js";

/**
 * The name of a joint: `rod / 2` is the second end of a rod, a pin or slide goes by its own.
 * @param {string} member id
 * @param {number} [end] 1 or 2
 */
export function jointId(member, end) {
  return end === undefined ? member : `${member} / ${end}`;
}

/**
 * What a name such as `rod / 2` is made of.
 * @param {string} name
 * @returns {[string, string]} the member's id, and its end or nothing
 */
export function splitJoint(name) {
  const at = name.lastIndexOf(" / ");
  return at < 0 ? [name, ""] : [name.slice(0, at), name.slice(at + 3)];
}

/**
 * @typedef {{name: string, label: string, clearance: number, rating: number|null, at: [number, number]}} Joint name:
 *   its id
 */

/** @param {any} mount @returns {Joint[]} */
export function joints(mount) {
  return mount.members.flatMap((/** @type {any} */ member) => {
    if (!member.ends) return [joint(member.id, member.id, member)];
    return member.ends.map((/** @type {any} */ end, /** @type {number} */ index) =>
      joint(jointId(member.id, index + 1), `${member.id}, ${endName(member, index)}`, end),
    );
  });
}

/** @param {any} member @param {number} index */
export function endName(member, index) {
  return memberKind(member.kind).ends[index].replace("{on}", member.ends[index].on);
}

/** @param {string} name @param {string} label @param {any} part @returns {Joint} */
function joint(name, label, part) {
  return { name, label, clearance: part.clearance ?? 0, rating: part.rating ?? null, at: part.at };
}
