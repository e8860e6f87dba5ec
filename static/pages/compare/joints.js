/**
 * The joints of a mount with their clearances, by the names a reader knows them by.
 * @module pages/compare/joints
 */

/** @typedef {{name: string, label: string, clearance: number, rating: number|null, at: [number, number]}} Joint name: as in the readout */

/** @param {any} mount @returns {Joint[]} */
export function joints(mount) {
  return mount.members.flatMap((/** @type {any} */ member) => {
    if (!member.ends) return [joint(member.id, member.id, member)];
    return member.ends.map((/** @type {any} */ end, /** @type {number} */ index) => joint(`${member.id} / ${index + 1}`, `${member.id}, ${endName(member, index)}`, end));
  });
}

/** @param {any} member @param {number} index */
export function endName(member, index) {
  if (member.kind === "cylinder") return index ? "rod end" : "barrel end";
  return `${member.ends[index].on} end`;
}

/** @param {string} name @param {string} label @param {any} part @returns {Joint} */
function joint(name, label, part) {
  return { name, label, clearance: part.clearance ?? 0, rating: part.rating ?? null, at: part.at };
}
