/**
 * Copies of what is picked, beside it or on the other side: pure functions from a mount to the next.
 * @module document/copies
 */

import { bodyNames, nameOf, renamed } from "./bodies.js";
import { footOn, withLine } from "./construction.js";
import { handleOf, withHeld } from "./dimensions.js";
import { bodiesOf, ids, middleOf, place } from "./draw.js";
import { freeName } from "./edits.js";
import { isHeldAlready } from "./settle.js";
import { splitJoint } from "../values/joint.js";

/** @typedef {readonly [number, number]} Point */
/** @typedef {{members: Set<string>, lines: Set<number>}} Picked ids of members, and which construction lines */

/** Lines nearer than this are one. */
const SAME_MM = 1e-6;

const BLADE_MIRRORED = new Map([
  ["blade / left", "blade / right"],
  ["blade / right", "blade / left"],
]);

/**
 * Copies beside the originals, with what is held between them.
 * @param {Mount} mount @param {Picked} picked @param {number} by mm
 * @returns {Mount}
 */
export function duplicated(mount, { members, lines }, by) {
  const to = (/** @type {Point} */ [x, y]) => /** @type {Point} */ ([x + by, y - by]);
  const { mount: next, names } = copied(mount, members, to, (id) => id);
  return withLinesCopied(withHeldCopied(mount, next, names), lines, to, (angle) => angle);
}

/**
 * Copies on the other side of the blade's middle, with what is held between them and to the ends of the blade. A body
 * that lies on one side, all of whose members are among them, is mirrored too, with its outlines; others they share.
 * @param {Mount} mount @param {Picked} picked
 * @returns {Mount}
 */
export function mirrored(mount, { members, lines }) {
  const middle = middleOf(mount);
  const to = (/** @type {Point} */ [x, y]) => /** @type {Point} */ ([2 * middle - x, y]);
  const { mount: next, names } = copied(mount, members, to, otherSide);
  const whole = withBodiesMirrored(mount, next, members, middle, to);
  const held = withHeldCopied(mount, whole, names, BLADE_MIRRORED);
  return withLinesCopied(held, lines, to, (angle) => -angle);
}

/**
 * @param {Mount} mount @param {Mount} next with the copies last @param {Set<string>} chosen @param {number} middle
 * @param {(at: Point) => Point} to
 * @returns {Mount}
 */
function withBodiesMirrored(mount, next, chosen, middle, to) {
  const names = bodyNames(mount);
  const twins = new Map(
    names
      .filter((body) => isOneSided(mount, body, chosen, middle))
      .map((body) => [
        body,
        names.includes(otherSide(body)) ? freeName(body.replace(/ \d+$/, ""), names) : otherSide(body),
      ]),
  );
  if (!twins.size) return next;
  const swap = (/** @type {string} */ body) => twins.get(body) ?? body;
  const copies = next.members
    .slice(mount.members.length)
    .map((each) =>
      each.joins
        ? { ...each, joins: each.joins.map(swap) }
        : { ...each, ends: each.ends.map((end) => ({ ...end, on: swap(end.on) })) },
    );
  const bodies = (mount.bodies ?? [])
    .filter((each) => twins.has(nameOf(each)))
    .map((each) => mirroredBody(each, swap, to));
  const outlines = (mount.outlines ?? [])
    .filter((each) => twins.has(each.body))
    .map((each) => ({ body: swap(each.body), points: each.points.map((at) => place(to(at))) }));
  return {
    ...next,
    bodies: [...(mount.bodies ?? []), ...bodies],
    members: [...mount.members, ...copies],
    ...(outlines.length ? { outlines: [...(mount.outlines ?? []), ...outlines] } : {}),
  };
}

/**
 * @param {string|WeighedBody} body @param {(name: string) => string} swap @param {(at: Point) => Point} to
 * @returns {string|WeighedBody}
 */
function mirroredBody(body, swap, to) {
  const named = renamed(body, swap(nameOf(body)));
  return typeof named !== "string" && named.mass_centre
    ? { ...named, mass_centre: place(to(named.mass_centre)) }
    : named;
}

/**
 * Whether a body has several joints, all on one side, and all of its members are among those chosen.
 * @param {Mount} mount @param {string} body @param {Set<string>} chosen @param {number} middle
 */
function isOneSided(mount, body, chosen, middle) {
  const holding = mount.members.filter((each) => bodiesOf(each).includes(body));
  const sides = holding.flatMap((each) =>
    each.ends ? each.ends.filter((end) => end.on === body).map((end) => end.at[0]) : [each.at[0]],
  );
  const left = sides.filter((x) => x < middle).length;
  return sides.length > 1 && holding.every((each) => chosen.has(each.id)) && (left === 0 || left === sides.length);
}

/** @param {string} id */
function otherSide(id) {
  if (/\bleft\b/.test(id)) return id.replace(/\bleft\b/, "right");
  return /\bright\b/.test(id) ? id.replace(/\bright\b/, "left") : id;
}

/**
 * @param {Mount} mount
 * @param {Set<string>} chosen
 * @param {(at: Point) => Point} to
 * @param {(id: string) => string} name
 * @returns {{mount: Mount, names: Map<string, string>}} names: those of the copies by those of the originals
 */
function copied(mount, chosen, to, name) {
  const taken = ids(mount);
  /** @type {Map<string, string>} */
  const names = new Map();
  const copies = mount.members
    .filter((each) => chosen.has(each.id))
    .map((each) => {
      const wanted = name(each.id);
      const id = taken.includes(wanted) ? freeName(wanted.replace(/ \d+$/, ""), taken) : wanted;
      taken.push(id);
      names.set(each.id, id);
      if (!each.ends) {
        const moved = { ...each, id, at: place(to(each.at)) };
        if (each.direction) {
          const [a, b] = [to([0, 0]), to(each.direction)];
          moved.direction = place([b[0] - a[0], b[1] - a[1]]);
        }
        return moved;
      }
      return { ...each, id, ends: each.ends.map((end) => ({ ...end, at: place(to(end.at)) })) };
    });
  return { mount: { ...mount, members: [...mount.members, ...copies] }, names };
}

/**
 * What is held between what was copied is held between the copies too; not what others hold already.
 * @param {Mount} mount @param {Mount} next with the copies
 * @param {Map<string, string>} names of the copies by those of the originals
 * @param {Map<string, string>} [others] joints that stand for each other, as the document calls them
 * @returns {Mount}
 */
function withHeldCopied(mount, next, names, others = new Map()) {
  /** @param {string} joint */
  const copyOf = (joint) => {
    if (handleOf(joint) !== joint) return others.get(joint);
    const [member, end] = splitJoint(joint);
    const name = names.get(member);
    return name && (end ? `${name} / ${end}` : name);
  };
  for (const { between, way } of mount.dimensions ?? []) {
    const [a, b] = between.map(copyOf);
    if (a && b && !isHeldAlready(next, { between: [a, b], way })) next = withHeld(next, [a, b], way);
  }
  return next;
}

/**
 * Copies of construction lines and points; what lies there already is not drawn twice.
 * @param {Mount} mount @param {Set<number>} lines
 * @param {(at: Point) => Point} to @param {(angle: number) => number} turned degrees
 * @returns {Mount}
 */
function withLinesCopied(mount, lines, to, turned) {
  const there = mount.construction ?? [];
  return [...lines].reduce((next, index) => {
    const { at, angle } = there[index];
    const copy = withLine(next, to(at), typeof angle === "number" ? turned(angle) : undefined);
    const [line] = copy.construction?.slice(-1) ?? [];
    return there.some((each) => liesOn(each, line)) ? next : copy;
  }, mount);
}

/** @param {ConstructionLine} one @param {ConstructionLine} other */
function liesOn(one, other) {
  if (typeof one.angle !== "number" || typeof other.angle !== "number")
    return one.angle === other.angle && one.at[0] === other.at[0] && one.at[1] === other.at[1];
  const [x, y] = footOn({ at: one.at, angle: one.angle }, other.at);
  return (one.angle - other.angle) % 180 === 0 && Math.hypot(x - other.at[0], y - other.at[1]) < SAME_MM;
}
