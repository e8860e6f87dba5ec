/**
 * How long a rod or cylinder is drawn and which way it points, to be typed.
 * @module document/spans
 */

import { drawnLength } from "./mount.js";
import { jointId, splitJoint } from "../values/joint.js";

/** @typedef {readonly [number, number]} Point */
/**
 * What of a span is settled; the rest is the hand's.
 * @typedef {{length?: number, angle?: number}} Span mm; degrees from level to the right, anticlockwise, from the first
 *   end to the second
 */

/** The span from one place to another. @param {Point} from @param {Point} to @returns {Required<Span>} */
export function spanOf(from, to) {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  return { length: Math.hypot(dx, dy), angle: (Math.atan2(dy, dx) * 180) / Math.PI };
}

/** @param {Linked} member @returns {Required<Span>} */
export function spanOfMember(member) {
  const [first, second] = member.ends;
  return { ...spanOf(first.at, second.at), length: drawnLength(member) };
}

/** A direction of unit length, exact along the axes. @param {number} degrees @returns {[number, number]} */
function direction(degrees) {
  const turned = ((degrees % 360) + 360) % 360;
  if (turned % 90 === 0)
    return /** @type {[number, number][]} */ ([
      [1, 0],
      [0, 1],
      [-1, 0],
      [0, -1],
    ])[turned / 90];
  const angle = (degrees * Math.PI) / 180;
  return [Math.cos(angle), Math.sin(angle)];
}

/**
 * Where a span ends: as far and in the direction that is settled, and for the rest nearest to where the hand is.
 * @param {Point} from @param {Point} toward where the hand is @param {Span} settled
 * @param {number} [step] lengths that are not settled come to whole steps of this, mm
 * @returns {[number, number]}
 */
export function reached(from, toward, settled, step = 0) {
  const free = spanOf(from, toward);
  const [x, y] = direction(settled.angle ?? free.angle);
  const along = (toward[0] - from[0]) * x + (toward[1] - from[1]) * y;
  const least = Math.max(step ? Math.round(along / step) * step : along, 0);
  const length = settled.length ?? (settled.angle === undefined ? free.length : least);
  return [from[0] + length * x, from[1] + length * y];
}

/**
 * Where the end that moves comes to when a member is given a length or an angle.
 * @param {Linked} member @param {number} moving 0 or 1, the end that moves @param {Span} settled
 * @returns {[number, number]}
 */
export function spanned(member, moving, settled) {
  const { length, angle } = { ...spanOfMember(member), ...settled };
  const stays = member.ends[1 - moving].at;
  return reached(stays, stays, { length, angle: moving === 1 ? angle : angle + 180 });
}

/**
 * The end that moves when a joint's member is given a length or an angle, and where to.
 * @param {Mount} mount @param {string} picked joint @param {boolean} otherEnd whether the other end moves
 * @param {Span} settled
 * @returns {{name: string, at: Point}|null} null for a joint of no rod or cylinder
 */
export function spannedEnd(mount, picked, otherEnd, settled) {
  const [id, part] = splitJoint(picked);
  const member = mount.members.find((each) => each.id === id);
  if (!member?.ends) return null;
  const moving = otherEnd ? 2 - Number(part) : Number(part) - 1;
  return { name: jointId(id, moving + 1), at: spanned(member, moving, settled) };
}
