/**
 * What was done from one step to the next, in a few words: found by what differs, so that no step has to be told its
 * name and every one that was ever kept has one.
 * @module document/deeds
 */

import { memberKind, numbersOf } from "../values/vocabulary.js";
import { bodyNames } from "./bodies.js";
import { handles, renamedIn } from "./mount.js";
import { alike, valueAt } from "./places.js";

/** @typedef {import("../core/history.js").Snapshot} Snapshot */

/** So many joints moved together are named; the others are counted. */
const NAMED = 2;

/** What changes in the parts of a document that are no members. @type {[string, string][]} */
const PARTS = [
  ["title", "change the title"],
  ["note", "change the note"],
  ["tolerance", "change the tolerance"],
  ["blade.mass", "change the mass of the blade"],
  ["blade.mass_centre", "move the centre of mass"],
  ["load.force", "change the load"],
  ["load", "change the load"],
  ["oil", "change the oil"],
  ["valve", "change the valve"],
  ["tyres", "change the tyres"],
  ["sensors", "change the sensors"],
  ["allowances", "change an allowance"],
  ["bodies", "change a body"],
  ["outlines", "change an outline"],
  ["dimensions", "change what is held"],
  ["alike", "keep both sides alike, or not"],
  ["display", "change the units it opens in"],
];
/** Of these one is added or taken out. @type {[string, string][]} */
const GIVEN = [
  ["load", "the load"],
  ["oil", "the oil"],
  ["valve", "the valve"],
  ["tyres", "the tyres"],
  ["sensors", "the sensors"],
  ["tolerance", "the tolerance"],
];
/** Of these there may be many. @type {[string, string][]} */
const MANY = [
  ["outlines", "an outline"],
  ["dimensions", "a held dimension"],
  ["allowances", "an allowance"],
];

/** @type {WeakMap<Snapshot, {before: Snapshot, words: string}>} */
const known = new WeakMap();

/** What made `after` of `before`. @param {Snapshot} before @param {Snapshot} after */
export function deedOf(before, after) {
  const found = known.get(after);
  if (found?.before === before) return found.words;
  const words = deed(before, after);
  known.set(after, { before, words });
  return words;
}

/** @param {Snapshot} before @param {Snapshot} after @returns {string} */
function deed({ mount: a, command: told }, { mount: b, command, name }) {
  return (
    name ??
    membersDeed(a, b) ??
    givenDeed(a, b) ??
    movedDeed(a, b) ??
    fieldDeed(a, b) ??
    PARTS.find(([place]) => !alike(valueAt(a, place), valueAt(b, place)))?.[1] ??
    strokeDeed(told, command) ??
    "change nothing"
  );
}

/** Members and bodies added, taken out, called otherwise. @param {Mount} a @param {Mount} b */
function membersDeed(a, b) {
  const renamed = renamedIn(a, b);
  for (const [before, now] of renamed) return `rename ${before} to ${now}`;
  const ids = (/** @type {Mount} */ mount) => mount.members.map(({ id }) => id);
  return givenNames(ids(a), ids(b), "members") ?? bodiesDeed(bodyNames(a), bodyNames(b));
}

/** @param {string[]} a @param {string[]} b */
function bodiesDeed(a, b) {
  const given = givenNames(a, b, "bodies");
  const [gone] = a.filter((each) => !b.includes(each));
  const [come] = b.filter((each) => !a.includes(each));
  return a.length === b.length && gone !== undefined ? `rename ${gone} to ${come}` : given;
}

/** What came or went. @param {string[]} a @param {string[]} b @param {string} many */
function givenNames(a, b, many) {
  const come = b.filter((each) => !a.includes(each));
  const gone = a.filter((each) => !b.includes(each));
  if (come.length) return `add ${come.length > NAMED ? `${come.length} ${many}` : come.join(" and ")}`;
  if (gone.length) return `take out ${gone.length > NAMED ? `${gone.length} ${many}` : gone.join(" and ")}`;
  return null;
}

/** Parts that are there or not. @param {Mount} a @param {Mount} b */
function givenDeed(a, b) {
  for (const [place, words] of GIVEN) {
    const [had, has] = [a, b].map((mount) => (valueAt(mount, place) ?? null) !== null);
    if (had !== has) return `${has ? "add" : "take away"} ${words}`;
  }
  for (const [place, words] of MANY) {
    const [had, has] = [a, b].map((mount) => /** @type {unknown[]} */ (valueAt(mount, place) ?? []).length);
    if (had !== has) return `${has > had ? "add" : "take out"} ${words}`;
  }
  return null;
}

/** Joints, ends and sensors moved. @param {Mount} a @param {Mount} b */
function movedDeed(a, b) {
  const before = new Map(handles(a).map(({ name, at }) => [name, at]));
  const moved = handles(b).filter(({ name, at }) => name !== "load/turn" && !alike(before.get(name), at));
  if (!moved.length) return null;
  const names = moved.map(({ name, label, member }) => (member ? name : label));
  const more = names.length - NAMED;
  return more > 0 ? `move ${names.slice(0, NAMED).join(", ")} and ${more} more` : `move ${names.join(" and ")}`;
}

/** A number of a member or of one of its joints. @param {Mount} a @param {Mount} b */
function fieldDeed(a, b) {
  for (const [index, member] of b.members.entries()) {
    const before = a.members[index];
    if (alike(before, member)) continue;
    const kind = memberKind(member.kind);
    const own = numbersOf(kind.fields).find(({ key }) => !alike(valueAt(before, key), valueAt(member, key)));
    if (own) return `change ${own.label} of ${member.id}`;
    const joints = member.ends ? member.ends.map((_, end) => [`ends[${end}].`, ` / ${end + 1}`]) : [["", ""]];
    for (const [place, end] of joints)
      for (const { key, label } of numbersOf(kind.joint_fields))
        if (!alike(valueAt(before, place + key), valueAt(member, place + key)))
          return `change ${label} of ${member.id}${end}`;
    return `change ${member.id}`;
  }
  return null;
}

/** Cylinders worked. @param {Command} a @param {Command} b */
function strokeDeed(a, b) {
  const worked = [...new Set([...Object.keys(a), ...Object.keys(b)])].filter((id) => (a[id] ?? 0) !== (b[id] ?? 0));
  if (!worked.length) return null;
  if (!Object.values(b).some((move) => move !== 0)) return "back to as drawn";
  return `work ${worked.length > NAMED ? `${worked.length} cylinders` : worked.join(" and ")}`;
}
