/**
 * The joints of a mount with their clearances, by the names a reader knows them by.
 * @module document/joints
 */

import { endName, jointId } from "../values/joint.js";

/**
 * @typedef {Object} Joint
 * @property {string} name its id
 * @property {string} label
 * @property {number} clearance mm
 * @property {number|null} rating N
 * @property {number|null} stiffness of its lug, N/mm
 * @property {[number, number]} at mm
 */

/** @param {Mount} mount @returns {Joint[]} */
export function joints(mount) {
  return mount.members.flatMap((member) => {
    if (!member.ends) return [joint(member.id, member.id, member)];
    return member.ends.map((end, index) =>
      joint(jointId(member.id, index + 1), `${member.id}, ${endName(member, index)}`, end),
    );
  });
}

/** @param {string} name @param {string} label @param {LinkEnd|Pin|Slide} part @returns {Joint} */
function joint(name, label, part) {
  return {
    name,
    label,
    clearance: part.clearance ?? 0,
    rating: part.rating ?? null,
    stiffness: part.stiffness ?? null,
    at: part.at,
  };
}
