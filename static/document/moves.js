/**
 * What moving joints does to a mount: those picked with it go along, partners where both sides are kept alike, what is
 * held to them, and closed lengths where they follow.
 * @module document/moves
 */

import { followed } from "./lengths.js";
import { partnerOf } from "./mirror.js";
import { handle, handles, moved } from "./mount.js";
import { settled } from "./settle.js";

/** @typedef {readonly [number, number]} Point */
/** @typedef {import("./settle.js").Asked} Asked */
/** @typedef {{mount: Mount, fighting: Dimension[]}} Outcome fighting: held dimensions that do not let it */

/**
 * @param {Mount} start before the move
 * @param {string} name handle
 * @param {Point} to mm as drawn
 * @param {{selected: string[], follow: boolean}} how what is picked together; whether closed lengths follow
 * @returns {Outcome}
 */
export function withMoved(start, name, to, { selected, follow }) {
  const each = handle(start, name);
  if (!each) return { mount: start, fighting: [] };
  const by = [to[0] - each.at[0], to[1] - each.at[1]];
  const together = selected.includes(name) ? selected : [name];
  let mount = start;
  const done = new Set(together);
  for (const one of together) {
    const now = handle(start, one);
    if (now && one !== "load/turn")
      mount = moved(mount, one, one === name ? to : [now.at[0] + by[0], now.at[1] + by[1]]);
    const partner = start.alike ? partnerOf(start, one) : null;
    const moving = partner && !done.has(partner) ? handle(start, partner) : undefined;
    if (moving) mount = moved(mount, moving.name, [moving.at[0] - by[0], moving.at[1] + by[1]]);
  }
  return settledAlike(start, mount, follow);
}

/**
 * The mount with a held dimension of another size; its first joint stays.
 * @param {Mount} start @param {number} index @param {number} size mm @param {boolean} follow
 * @returns {Outcome}
 */
export function withSize(start, index, size, follow) {
  const asked = [{ index, size }];
  const other = start.alike ? partnerDimension(start, index) : -1;
  if (other >= 0) asked.push({ index: other, size });
  return settledAlike(start, start, follow, asked);
}

/**
 * The dimension on the other side that mirrors one.
 * @param {Mount} mount @param {number} index
 */
function partnerDimension(mount, index) {
  const dimensions = mount.dimensions ?? [];
  const { between, way } = dimensions[index];
  const partners = between.map((joint) => partnerOf(mount, joint.replace(/^blade \/ /, "blade/")));
  const wanted = partners.map((each) => each?.replace(/^blade\//, "blade / ")).sort();
  return dimensions.findIndex(
    (each, at) => at !== index && each.way === way && [...each.between].sort().join("\n") === wanted.join("\n"),
  );
}

/**
 * A change with what is held, and on the other side the mirror of what followed.
 * @param {Mount} start @param {Mount} changed @param {boolean} follow @param {Asked[]} [asked]
 * @returns {Outcome}
 */
function settledAlike(start, changed, follow, asked = []) {
  const first = settled(start, changed, asked);
  if (first.fighting.length) return first;
  const both = start.alike ? mirroredFollowers(start, changed, first.mount) : first.mount;
  const found = both === first.mount ? first : settled(start, both, asked);
  return found.fighting.length || !follow ? found : { ...found, mount: followed(start, found.mount) };
}

/** @param {Mount} start @param {Mount} changed by the hand @param {Mount} after what is held has followed */
function mirroredFollowers(start, changed, after) {
  let next = after;
  for (const each of handles(after)) {
    const [was, byHand] = [start, changed].map((mount) => handle(mount, each.name));
    if (!was || !byHand || (byHand.at[0] === each.at[0] && byHand.at[1] === each.at[1])) continue;
    const partner = partnerOf(start, each.name);
    const there = partner ? handle(start, partner) : undefined;
    const now = partner ? handle(after, partner) : undefined;
    if (!there || !now || now.at[0] !== there.at[0] || now.at[1] !== there.at[1]) continue;
    const to = /** @type {Point} */ ([there.at[0] - (each.at[0] - was.at[0]), there.at[1] + each.at[1] - was.at[1]]);
    next = moved(next, there.name, to, false);
  }
  return next;
}
