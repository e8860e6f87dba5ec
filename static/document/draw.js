/**
 * What the drawing tools do to the document: pure functions from a mount to the next.
 * @module document/draw
 */

import { bodyNames, nameOf, renamed } from "./bodies.js";
import { usualPlay } from "./clearance.js";
import { freeName } from "./edits.js";
import { sizesFor } from "./lengths.js";
import { tidy } from "./mount.js";

/** @typedef {readonly [number, number]} Point */
/** @typedef {{body: string, at: Point}} Hold a place on a body, mm as drawn */
/** @typedef {import("./clearance.js").Usual} Usual */

/** @type {Usual} */
const NOTHING_KNOWN = { system: "metric", sizes: null };

/**
 * Tools: what each adds, and how many places it asks for.
 * @type {Record<string, {label: string, places: number, hint: string}>}
 */
export const TOOLS = {
  pin: { label: "pin", places: 1, hint: "Tap where two bodies share a pin." },
  rod: { label: "rod", places: 2, hint: "Tap the first end, then the second." },
  cylinder: { label: "cylinder", places: 2, hint: "Tap the barrel end, then the rod end." },
  slide: { label: "slide", places: 1, hint: "Tap the point that runs on the guide." },
  outline: {
    label: "outline",
    places: 3,
    hint: "Tap corner by corner; the first again, or Enter twice, closes it; Backspace takes one back.",
  },
  line: {
    label: "line",
    places: 1,
    hint: "Tap where the construction line or point goes: joints rest on it.",
  },
  hold: {
    label: "hold",
    places: 2,
    hint: "Tap two joints: what lies between them stays while others are moved.",
  },
  measure: {
    label: "measure",
    places: 2,
    hint: "Tap two joints or points: their distance stays on the sheet; again takes it away.",
  },
};

/** Whether a tool points at what is there and draws no member. @param {string} tool */
export function isPointed(tool) {
  return tool === "measure" || tool === "hold";
}

/** @param {Point} at @returns {[number, number]} */
function place(at) {
  return [tidy(at[0]), tidy(at[1])];
}

/** @param {Mount} mount */
function ids(mount) {
  return mount.members.map((each) => each.id);
}

/** @param {Mount} mount @param {Member} member @returns {Mount} */
function withMember(mount, member) {
  return { ...mount, members: [...mount.members, member] };
}

/**
 * @param {Mount} mount @param {"pin"|"slide"} kind @param {string} first the body that carries it @param {Hold} second
 * @param {Usual} [usual] what the sizes it is given are taken from
 * @returns {Mount}
 */
export function addJoint(mount, kind, first, second, usual = NOTHING_KNOWN) {
  const member = {
    kind,
    id: freeName(kind, ids(mount)),
    joins: [first, second.body],
    at: place(second.at),
    ...usualPlay(mount, usual),
  };
  return withMember(mount, /** @type {Member} */ (kind === "slide" ? { ...member, direction: [0, 1] } : member));
}

/**
 * @param {Mount} mount @param {"rod"|"cylinder"} kind @param {Hold} first @param {Hold} second
 * @param {Usual} [usual] what the sizes it is given are taken from
 */
export function addLink(mount, kind, first, second, usual = NOTHING_KNOWN) {
  const ends = [first, second].map((hold) => ({ on: hold.body, at: place(hold.at), ...usualPlay(mount, usual) }));
  const member = { kind, id: freeName(kind, ids(mount)), ends };
  if (kind === "rod") return withMember(mount, /** @type {Rod} */ (member));
  const length = Math.hypot(second.at[0] - first.at[0], second.at[1] - first.at[1]);
  return withMember(mount, /** @type {Cylinder} */ ({ ...member, ...sizesFor(length, usual.system) }));
}

/** @param {Mount} mount */
export function addBody(mount) {
  const name = freeName("body", bodyNames(mount));
  return { mount: { ...mount, bodies: [...(mount.bodies ?? []), name] }, name };
}

/** The body and every member that takes hold of it. @param {Mount} mount @param {string} body @returns {Mount} */
export function withoutBody(mount, body) {
  const members = mount.members.filter((each) => !bodiesOf(each).includes(body));
  return { ...mount, bodies: (mount.bodies ?? []).filter((each) => nameOf(each) !== body), members };
}

/** @param {Mount} mount @param {string} from @param {string} to @returns {Mount} */
export function renamedBody(mount, from, to) {
  const swap = (/** @type {string} */ body) => (body === from ? to : body);
  const members = mount.members.map((each) =>
    each.joins
      ? { ...each, joins: each.joins.map(swap) }
      : { ...each, ends: each.ends.map((end) => ({ ...end, on: swap(end.on) })) },
  );
  const bodies = (mount.bodies ?? []).map((each) => renamed(each, swap(nameOf(each))));
  const outlines = mount.outlines?.map((each) => ({ ...each, body: swap(each.body) }));
  return { ...mount, bodies, members, ...(outlines ? { outlines } : {}) };
}

/** @param {Member} member @returns {string[]} */
function bodiesOf(member) {
  return member.joins ?? member.ends.map((end) => end.on);
}

/** @param {Mount} mount @param {Set<string>} gone ids @returns {Mount} */
export function withoutMembers(mount, gone) {
  return { ...mount, members: mount.members.filter((each) => !gone.has(each.id)) };
}

/** Copies beside the originals. @param {Mount} mount @param {Set<string>} chosen ids @param {number} by mm */
export function duplicated(mount, chosen, by) {
  return copied(
    mount,
    chosen,
    ([x, y]) => [x + by, y - by],
    (id) => id,
  );
}

/**
 * Copies on the other side of the blade's middle. A body that lies on one side, all of whose members are among them, is
 * mirrored too, with its outlines; others they share.
 * @param {Mount} mount @param {Set<string>} chosen ids
 * @returns {Mount}
 */
export function mirrored(mount, chosen) {
  const middle = middleOf(mount);
  const to = (/** @type {Point} */ [x, y]) => /** @type {Point} */ ([2 * middle - x, y]);
  const next = copied(mount, chosen, to, otherSide);
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

/** The vertical line about which a mount's sides are alike. @param {Mount} mount */
export function middleOf(mount) {
  return (mount.blade.left[0] + mount.blade.right[0]) / 2;
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
 * @returns {Mount}
 */
function copied(mount, chosen, to, name) {
  const taken = ids(mount);
  const copies = mount.members
    .filter((each) => chosen.has(each.id))
    .map((each) => {
      const wanted = name(each.id);
      const id = taken.includes(wanted) ? freeName(wanted.replace(/ \d+$/, ""), taken) : wanted;
      taken.push(id);
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
  return { ...mount, members: [...mount.members, ...copies] };
}
