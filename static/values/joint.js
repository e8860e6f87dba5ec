/**
 * What a joint is called, the same in answers, on the sheet and in every table.
 * @module values/joint
 */

import { memberKind } from "./vocabulary.js";

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

/** What an end of a rod or cylinder is called. @param {Linked} member @param {number} index */
export function endName(member, index) {
  return memberKind(member.kind).ends[index].replace("{on}", () => member.ends[index].on);
}
