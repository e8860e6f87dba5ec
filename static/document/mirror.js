/**
 * Both sides alike: which joint mirrors which about the middle of the edge, and what is typed on one side typed on
 * both.
 * @module document/mirror
 */

import { middleOf } from "./draw.js";
import { jointId, splitJoint } from "../values/joint.js";
import { handle, handles, isLoad } from "./mount.js";
import { directionDegrees, directionOf, directionTurned } from "./direction.js";
import { lineOf } from "./construction.js";
import { cornerOf } from "./outlines.js";
import { valueAt, withValueAt } from "./places.js";

const PARTNER_MM = 1;

/** The handle that mirrors another about the middle of the edge. @param {Mount} mount @param {string} name */
export function partnerOf(mount, name) {
  const each = handle(mount, name);
  if (!each || isLoad(name) || cornerOf(name) || lineOf(name) !== null || directionOf(name) !== null) return null;
  const at = [2 * middleOf(mount) - each.at[0], each.at[1]];
  const alike = handles(mount).find(
    (other) =>
      other.name !== name &&
      other.body === each.body &&
      other.member?.kind === each.member?.kind &&
      Boolean(other.member) === Boolean(each.member) &&
      !isLoad(other.name) &&
      Math.hypot(other.at[0] - at[0], other.at[1] - at[1]) < PARTNER_MM,
  );
  return alike?.name ?? null;
}

/**
 * The mount after a slide was turned, with its partner turned the mirrored way while both sides are kept alike.
 * @param {Mount} mount @param {string} name the handle it was turned by
 * @returns {Mount}
 */
export function turnedAlike(mount, name) {
  const slide = mount.members[directionOf(name) ?? -1];
  const partner = mount.alike && slide?.kind === "slide" ? partnerOf(mount, slide.id) : null;
  const other = mount.members.findIndex((each) => each.id === partner);
  if (slide?.kind !== "slide" || other < 0) return mount;
  return directionTurned(mount, other, -directionDegrees(slide));
}

/**
 * The mount with what was typed at a place put into the partner on the other side too, while both are kept alike.
 * @param {import("../core/store.js").State} state before
 * @param {Mount} mount with the typed value
 * @param {string} place
 */
export function alikeField(state, mount, place) {
  const match = place.match(/^members\[(\d+)\](?:\.ends\[(\d)\])?\.(.+)$/);
  if (!state.mount.alike || !match || /^(id|on|joins)/.test(match[3])) return mount;
  const [, number, end, key] = match;
  const member = state.mount.members[Number(number)];
  const partner = partnerOf(state.mount, jointId(member.id, member.ends ? Number(end ?? 0) + 1 : undefined));
  const other = partner ? handle(state.mount, partner) : undefined;
  if (!partner || !other?.member || other.member === member) return mount;
  const at = `members[${state.mount.members.indexOf(other.member)}]`;
  const theirs =
    member.ends && end !== undefined ? `${at}.ends[${Number(splitJoint(partner)[1]) - 1}].${key}` : `${at}.${key}`;
  const value = valueAt(mount, place);
  const sideways = /** @type {number} */ (value);
  const mirrored = key === "at[0]" ? 2 * middleOf(state.mount) - sideways : key === "direction[0]" ? -sideways : value;
  return withValueAt(mount, theirs, mirrored);
}

/** Both sides kept alike, or no longer. @param {Mount} mount @returns {Mount} */
export function withAlike(mount) {
  return withValueAt(mount, "alike", mount.alike ? undefined : true);
}
