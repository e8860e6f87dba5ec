/**
 * Held dimensions of a document: what lies between two joints stays as it is drawn while other things are moved.
 * @module document/dimensions
 */

import { alike } from "./places.js";
import { handles, isLoad, renamedIn } from "./mount.js";
import { splitJoint } from "../values/joint.js";

/** @typedef {readonly [number, number]} Point */
/** @typedef {Dimension["way"]} Way */

/** @type {{way: Way, words: string}[]} */
export const WAYS = [
  { way: "along", words: "along" },
  { way: "level", words: "level" },
  { way: "upright", words: "upright" },
];

/** What a document calls the joint of a handle; null where nothing can be held to it. @param {string} handle */
export function jointOf(handle) {
  if (/^sensors\//.test(handle) || isLoad(handle)) return null;
  return handle.replace(/^blade\/(left|right)$/, "blade / $1");
}

/** The handle of a joint as a document calls it. @param {string} joint */
export function handleOf(joint) {
  return joint.replace(/^blade \/ (left|right)$/, "blade/$1");
}

/**
 * Where everything lies that can be held, by the document's names.
 * @param {Mount} mount @returns {Map<string, Point>}
 */
export function jointPlaces(mount) {
  return new Map(
    handles(mount).flatMap(({ name, at }) => {
      const joint = jointOf(name);
      return joint === null ? [] : [[joint, at]];
    }),
  );
}

/** What a dimension holds, mm, not below zero. @param {Mount} mount @param {Dimension} dimension */
export function heldDistance(mount, { between, way }) {
  const places = jointPlaces(mount);
  const [a, b] = between.map((each) => places.get(each) ?? [0, 0]);
  return way === "along" ? Math.hypot(b[0] - a[0], b[1] - a[1]) : Math.abs(way === "level" ? b[0] - a[0] : b[1] - a[1]);
}

/** What a dimension is called: `level, 'rod / 1' to 'blade / left'`. @param {Dimension} dimension */
export function dimensionWords({ between, way }) {
  return `${way}, '${between[0]}' to '${between[1]}'`;
}

/**
 * The mount with two joints held. What is held so already is not held twice.
 * @param {Mount} mount @param {[string, string]} between as the document calls them @param {Way} way
 * @returns {Mount}
 */
export function withHeld(mount, between, way) {
  const held = mount.dimensions ?? [];
  const same = held.some(
    (each) => each.way === way && (alike(each.between, between) || alike(each.between, [between[1], between[0]])),
  );
  return same ? mount : { ...mount, dimensions: [...held, { between, way }] };
}

/** @param {Mount} mount @param {number} index @returns {Mount} */
export function withoutHeld(mount, index) {
  return withDimensions(
    mount,
    (mount.dimensions ?? []).filter((_, each) => each !== index),
  );
}

/** @param {Mount} mount @param {Dimension[]} dimensions @returns {Mount} */
function withDimensions(mount, dimensions) {
  const { dimensions: _, ...others } = mount;
  return dimensions.length ? { ...others, dimensions } : others;
}

/**
 * The next mount with the dimensions of joints that are gone left out, and those of renamed members renamed.
 * @param {Mount} before @param {Mount} after
 * @returns {Mount}
 */
export function dimensionsKept(before, after) {
  if (!after.dimensions?.length || before.members === after.members) return after;
  const names = renamedIn(before, after);
  const there = jointPlaces(after);
  const dimensions = after.dimensions
    .map((each) => ({ ...each, between: each.between.map((joint) => renamedJoint(joint, names)) }))
    .filter((each) => each.between.every((joint) => there.has(joint)));
  return alike(dimensions, after.dimensions) ? after : withDimensions(after, dimensions);
}

/** @param {string} joint @param {Map<string, string>} names */
function renamedJoint(joint, names) {
  if (handleOf(joint) !== joint) return joint;
  const [member, end] = splitJoint(joint);
  return end ? `${names.get(member) ?? member} / ${end}` : (names.get(member) ?? member);
}
