/**
 * What is free in a search: pivots within boxes, numbers that are one of several; and what is locked.
 * @module document/free
 */

import { customs } from "../values/units.js";
import { handles, isLoad } from "./mount.js";
import { partnerOf } from "./mirror.js";
import { middleOf } from "./draw.js";
import { jointId, splitJoint } from "../values/joint.js";

/** @typedef {import("./mount.js").JointHandle} JointHandle */
/** @typedef {import("./wishes.js").Wishes} Wishes */
/** @typedef {import("./wishes.js").Box} Box */
/** @typedef {import("./wishes.js").Choice} Choice */
/** @typedef {import("./wishes.js").Range} Range */
/** @typedef {readonly [number, number]} Point */

/** Half the side of a new box, mm. @type {Record<Trade, number>} */
const HALF = { metric: 200, inch: 8 * 25.4 };

/** Every joint. @param {Mount} mount @returns {JointHandle[]} */
export function jointsOf(mount) {
  return handles(mount)
    .filter((each) => each.member !== null && !isLoad(each.name))
    .map((each) => /** @type {JointHandle} */ (each));
}

/** The other end of a rod or cylinder. @param {Mount} mount @param {string} joint @returns {string|null} */
export function otherEnd(mount, joint) {
  const [owner, end] = splitJoint(joint);
  const member = mount.members.find((each) => each.id === owner);
  return member?.ends && end ? jointId(owner, end === "1" ? 2 : 1) : null;
}

/** The joints a box's own takes along on its own side, itself first. @param {Mount} mount @param {Box} box */
function company(mount, { joint, whole }) {
  const other = whole ? otherEnd(mount, joint) : null;
  return other ? [joint, other] : [joint];
}

/** Whether every joint of a box has one that mirrors it. @param {Mount} mount @param {Box} box */
export function canMirror(mount, box) {
  return company(mount, box).every((each) => partnerOf(mount, each) !== null);
}

/** Every joint that moves with a box. @param {Mount} mount @param {Box} box @returns {string[]} */
export function movedBy(mount, box) {
  const own = company(mount, box);
  const images = box.alike ? own.map((each) => partnerOf(mount, each)).filter((each) => each !== null) : [];
  return [...own, ...images];
}

/**
 * A box about a joint where it is, its pair with it where it has one.
 * @param {Mount} mount @param {string} joint @param {System} system @param {{x: Range, y: Range}} [drawn]
 * @returns {Box|null}
 */
export function boxAbout(mount, joint, system, drawn) {
  const found = jointsOf(mount).find((each) => each.name === joint);
  if (!found) return null;
  const half = HALF[customs(system).trade];
  const about = (/** @type {number} */ at) => /** @type {Range} */ ([at - half, at + half]);
  const ranges = drawn ?? { x: about(found.at[0]), y: about(found.at[1]) };
  const box = { joint, ...ranges, alike: true, whole: false };
  return { ...box, alike: canMirror(mount, box) };
}

/**
 * The boxes with one more: it takes the place of those of the joints it moves.
 * @param {Mount} mount @param {Box[]} boxes @param {Box} box
 */
export function withBox(mount, boxes, box) {
  const moved = new Set(movedBy(mount, box));
  const at = boxes.findIndex((each) => each.joint === box.joint);
  const others = boxes.filter(
    (each) => each.joint === box.joint || !movedBy(mount, each).some((name) => moved.has(name)),
  );
  return at < 0 ? [...others, box] : others.map((each) => (each.joint === box.joint ? box : each));
}

/**
 * The joint a drawn rectangle is about: of those inside the one nearest to its middle.
 * @param {{name: string, at: Point}[]} joints @param {Point} a @param {Point} b corners, in the units of `at`
 * @returns {string|null}
 */
export function jointWithin(joints, a, b) {
  const middle = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
  const inside = joints.filter(({ at }) =>
    [0, 1].every((axis) => Math.min(a[axis], b[axis]) <= at[axis] && at[axis] <= Math.max(a[axis], b[axis])),
  );
  const away = (/** @type {Point} */ at) => Math.hypot(at[0] - middle[0], at[1] - middle[1]);
  return inside.sort((one, other) => away(one.at) - away(other.at))[0]?.name ?? null;
}

/**
 * Where a box's joint, and the one that mirrors it, may stand: corners as drawn, mm.
 * @param {Mount} mount @param {Box} box
 * @returns {{joint: string, body: string, mirrored: boolean, corners: [Point, Point]}[]}
 */
export function boxCorners(mount, box) {
  const all = jointsOf(mount);
  const own = all.find((each) => each.name === box.joint);
  if (!own) return [];
  const [x, y] = [box.x ?? [own.at[0], own.at[0]], box.y ?? [own.at[1], own.at[1]]];
  const middle = middleOf(mount);
  return movedBy(mount, box).flatMap((name) => {
    const each = all.find((one) => one.name === name);
    if (!each) return [];
    const mirrored = name !== box.joint && !company(mount, box).includes(name);
    // What goes along takes the same steps from its own place.
    const base = mirrored ? all.find((one) => one.name === partnerOf(mount, name)) : each;
    const shift = base ? [base.at[0] - own.at[0], base.at[1] - own.at[1]] : [0, 0];
    const side = (/** @type {number} */ at) => (mirrored ? 2 * middle - at - shift[0] : at + shift[0]);
    /** @type {[Point, Point]} */
    const corners = [
      [side(x[0]), y[0] + shift[1]],
      [side(x[1]), y[1] + shift[1]],
    ];
    return [{ joint: name, body: each.body, mirrored: name !== box.joint, corners }];
  });
}

/**
 * The same number on the other side, as the server names its place.
 * @param {Mount} mount @param {string} place
 * @returns {string|null}
 */
export function twinPlace(mount, place) {
  const at = place.lastIndexOf(".");
  const [name, key] = [place.slice(0, at), place.slice(at + 1)];
  const member = mount.members.find((each) => each.id === name);
  const joint = member?.ends ? jointId(name, 1) : name;
  const partner = partnerOf(mount, joint);
  if (!partner) return null;
  const twin = member?.ends ? splitJoint(partner)[0] : partner;
  return twin === name ? null : `${twin}.${key}`;
}

/** Whether what a place names is in the mount. @param {Mount} mount @param {string} place */
function isThere(mount, place) {
  const name = place.slice(0, place.lastIndexOf("."));
  return mount.members.some((each) => each.id === name) || jointsOf(mount).some((each) => each.name === name);
}

/**
 * What is free, as a search is asked for it; what the mount has no more is left out.
 * @param {Mount} mount @param {Wishes} wishes
 */
export function freeAsked(mount, wishes) {
  const joints = new Set(jointsOf(mount).map((each) => each.name));
  const boxes = wishes.boxes
    .filter((each) => joints.has(each.joint) && (each.x || each.y))
    .map((each) => ({
      joint: each.joint,
      ...(each.x ? { x: each.x } : {}),
      ...(each.y ? { y: each.y } : {}),
      ...(each.whole ? { with: company(mount, each).slice(1) } : {}),
      ...(each.alike && canMirror(mount, each) ? { alike: true } : {}),
    }));
  const choices = wishes.choices
    .filter((each) => isThere(mount, each.place) && each.choices.length > 1)
    .map(({ place, choices: several, alike }) => {
      const twin = alike ? twinPlace(mount, place) : null;
      return { place, choices: several, ...(twin ? { alike: twin } : {}) };
    });
  return [...boxes, ...choices];
}

/** How many numbers are free. @param {ReturnType<typeof freeAsked>} free */
export function freeCount(free) {
  return free.reduce((sum, each) => sum + ("joint" in each ? Number(Boolean(each.x)) + Number(Boolean(each.y)) : 1), 0);
}

/**
 * The locked joints, those of locked members among them.
 * @param {Mount} mount @param {string[]} locked
 * @returns {JointHandle[]}
 */
export function lockedJoints(mount, locked) {
  const names = new Set(locked);
  return jointsOf(mount).filter((each) => names.has(each.name) || names.has(each.member.id));
}
