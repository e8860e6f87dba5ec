/**
 * Reading and changing a mount document on the page. Changes give a new document; the old one stays as it was.
 * @module document/mount
 */

import { jointId, splitJoint } from "../values/joint.js";
import { tidy } from "../values/tidy.js";
import { lineHandle, lineMoved, lineOf } from "./construction.js";
import { directionHandle, directionMoved, directionOf } from "./direction.js";
import { cornerHandles, cornerMoved, cornerOf } from "./outlines.js";

export { tidy };

/** @typedef {readonly [number, number]} Point */
/** @typedef {{name: string, at: Point, body: string, label: string}} Held */
/** @typedef {Held & {member: Member}} JointHandle */
/** @typedef {JointHandle|(Held & {member: null})} Handle */

/** Everything that can be dragged. @param {Mount} mount @returns {Handle[]} */
export function handles(mount) {
  /** @type {Handle[]} */
  const found = [
    { name: "blade/left", at: mount.blade.left, body: "blade", label: "blade, left end", member: null },
    { name: "blade/right", at: mount.blade.right, body: "blade", label: "blade, right end", member: null },
  ];
  for (const side of /** @type {const} */ (["left", "right"])) {
    if (mount.sensors) {
      found.push({
        name: `sensors/${side}`,
        at: mount.sensors[side],
        body: "blade",
        label: `${side} sensor`,
        member: null,
      });
    }
  }
  if (mount.load) {
    found.push({ name: "load/at", at: mount.load.at, body: "blade", label: "load, where it acts", member: null });
    found.push({
      name: "load/turn",
      at: mount.load.at,
      body: "blade",
      label: "load, which way it points",
      member: null,
    });
  }
  for (const member of mount.members) {
    if (member.ends) {
      member.ends.forEach((end, index) => {
        const side = index ? "rod end" : "barrel end";
        const label =
          member.kind === "cylinder"
            ? `${member.id}, ${side} on ${onWords(end.on)}`
            : `${member.id}, ${onWords(end.on)} end`;
        found.push({ name: jointId(member.id, index + 1), at: end.at, body: end.on, label, member });
      });
    } else {
      const label = `${member.id}, between ${member.joins.map(onWords).join(" and ")}`;
      found.push({ name: member.id, at: member.at, body: member.joins[1], label, member });
    }
  }
  return found;
}

/** Whether a handle is one of the load's; a member may be called 'load' too. @param {string} name */
export function isLoad(name) {
  return name === "load/at" || name === "load/turn";
}

/** @param {string} body */
function onWords(body) {
  return body === "frame" || body === "blade" ? body : `'${body}'`;
}

/** @param {Mount} mount @param {string} name @returns {Handle|undefined} */
export function handle(mount, name) {
  const turning = directionOf(name);
  if (turning !== null) return directionHandle(mount, turning);
  const line = lineOf(name);
  if (line !== null) return lineHandle(mount, line);
  const corner = cornerOf(name);
  const known = corner ? cornerHandles(mount, corner.index) : handles(mount);
  return known.find((each) => each.name === name);
}

/**
 * The document with one handle elsewhere.
 * @param {Mount} mount
 * @param {string} name
 * @param {Point} at mm, as drawn
 * @param {boolean} [tidied] without rounding dust
 * @returns {Mount}
 */
export function moved(mount, name, at, tidied = true) {
  /** @type {[number, number]} */
  const place = tidied ? [tidy(at[0]), tidy(at[1])] : [at[0], at[1]];
  if (directionOf(name) !== null) return directionMoved(mount, name, place);
  if (lineOf(name) !== null) return lineMoved(mount, name, place);
  if (cornerOf(name)) return cornerMoved(mount, name, place);
  if (name === "load/at" && mount.load) return { ...mount, load: { ...mount.load, at: onEdge(mount.blade, at) } };
  const edge = name.match(/^(blade|sensors)\/(left|right)$/);
  if (edge) {
    const part = /** @type {"blade"|"sensors"} */ (edge[1]);
    return { ...mount, [part]: { ...mount[part], [edge[2]]: place } };
  }
  const [owner, part] = splitJoint(name);
  const members = mount.members.map((member) => {
    if (member.id !== owner) return member;
    if (!member.ends) return { ...member, at: place };
    const ends = member.ends.map((end, index) => (index + 1 === Number(part) ? { ...end, at: place } : end));
    return { ...member, ends };
  });
  return { ...mount, members };
}

/** The nearest point of the edge. @param {Blade} blade @param {Point} at @returns {[number, number]} */
function onEdge(blade, at) {
  const [dx, dy] = [blade.right[0] - blade.left[0], blade.right[1] - blade.left[1]];
  const share = ((at[0] - blade.left[0]) * dx + (at[1] - blade.left[1]) * dy) / (dx * dx + dy * dy);
  const along = Math.min(Math.max(share, 0), 1);
  return [tidy(blade.left[0] + along * dx), tidy(blade.left[1] + along * dy)];
}

/**
 * The document with its load pointing another way, or of another size.
 * @param {Mount} mount
 * @param {number} degrees from horizontal to the right, anticlockwise
 * @param {number} size N
 * @returns {Mount}
 */
export function loadTurned(mount, degrees, size) {
  const angle = (degrees * Math.PI) / 180;
  const load = /** @type {Load} */ (mount.load);
  return { ...mount, load: { ...load, force: [tidy(size * Math.cos(angle)), tidy(size * Math.sin(angle))] } };
}

/** Size in N and direction in degrees of the load. @param {Load} load */
export function loadSize(load) {
  const [x, y] = load.force;
  return { size: Math.hypot(x, y), degrees: tidy((Math.atan2(y, x) * 180) / Math.PI) };
}

/**
 * Members that go by another name in the next document, by the old one.
 * @param {Mount} before
 * @param {Mount} mount
 * @returns {Map<string, string>}
 */
export function renamedIn(before, mount) {
  /** @type {[Member, Member][]} */
  const pairs =
    before.members.length === mount.members.length
      ? before.members.map((each, index) => [each, mount.members[index]])
      : [];
  return new Map(pairs.filter(([a, b]) => a.id !== b.id && a.kind === b.kind).map(([a, b]) => [a.id, b.id]));
}

/** Whether the same members stand in two documents, wherever they are drawn. @param {Mount} one @param {Mount} other */
export function hasSameMembers({ members: one }, { members: other }) {
  return one.length === other.length && one.every((each, index) => each.id === other[index].id);
}

/**
 * A command for the next document: what a renamed cylinder was told is told it still, what a cylinder that is gone was
 * told is not.
 * @param {Mount} before @param {Mount} mount @param {Record<string, number>} command
 */
export function commandFor(before, mount, command) {
  const names = renamedIn(before, mount);
  const known = new Set(cylinders(mount).map((each) => each.id));
  const told = Object.entries(command)
    .map(([id, move]) => /** @type {[string, number]} */ ([names.get(id) ?? id, move]))
    .filter(([id]) => known.has(id));
  return told.length === Object.keys(command).length && !names.size ? command : Object.fromEntries(told);
}

/** @param {Mount} mount */
export function cylinders(mount) {
  return mount.members.filter((member) => member.kind === "cylinder");
}

/** How long a cylinder or rod is drawn, mm. @param {Linked} member */
export function drawnLength(member) {
  const [a, b] = member.ends;
  return Math.hypot(b.at[0] - a.at[0], b.at[1] - a.at[1]);
}

/**
 * The stroke a cylinder has from the drawn pose: [shortest, longest] as mm longer than drawn.
 * @param {Cylinder} cylinder
 * @returns {[number, number]}
 */
export function strokeRange(cylinder) {
  const out = drawnLength(cylinder) - cylinder.retracted;
  return [-out, cylinder.stroke - out];
}

/**
 * The hue number of every member and allowance: cylinders first, the same everywhere.
 * @param {{members: {kind: string, id: string}[], allowances?: {label: string}[]}} mount
 * @returns {Map<string, number>}
 */
export function hues(mount) {
  const order = mount.members.filter((each) => each.kind === "cylinder").map((each) => each.id);
  for (const member of mount.members) if (member.kind !== "cylinder") order.push(member.id);
  for (const allowance of mount.allowances ?? []) order.push(`allowance ${allowance.label}`);
  return new Map(order.map((/** @type {string} */ name, /** @type {number} */ index) => [name, index % 8]));
}
