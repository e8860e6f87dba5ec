/**
 * Which way a slide runs, as a handle that is turned about the slide.
 * @module document/direction
 */

import { tidy } from "../values/tidy.js";
import { runOf } from "./construction.js";

/** How far from the slide the handle stands, as a share of the blade's width. */
const REACH = 0.07;

/** Fine enough that an angle in whole degrees is read back as it was. @param {number} value */
function fine(value) {
  return Math.round(value * 1e9) / 1e9;
}

/** @param {number} index of the slide among the members */
export function directionName(index) {
  return `direction/${index}`;
}

/** Which slide's direction a handle is; null for any other. @param {string|null} name @returns {number|null} */
export function directionOf(name) {
  const match = /^direction\/(\d+)$/.exec(name ?? "");
  return match ? Number(match[1]) : null;
}

/**
 * The slide whose direction goes with what is picked: a slide, or that handle.
 * @param {Mount} mount @param {string|null} picked
 */
export function directionBeside(mount, picked) {
  return directionOf(picked) ?? mount.members.findIndex((each) => each.kind === "slide" && each.id === picked);
}

/** @param {Mount} mount @param {number} index */
export function directionHandle(mount, index) {
  const slide = mount.members[index];
  if (slide?.kind !== "slide") return undefined;
  const [x, y] = runOf(directionDegrees(slide));
  const { left, right } = mount.blade;
  const reach = REACH * Math.hypot(right[0] - left[0], right[1] - left[1]);
  const at = /** @type {[number, number]} */ ([slide.at[0] + reach * x, slide.at[1] + reach * y]);
  return {
    name: directionName(index),
    at,
    body: slide.joins[0],
    label: `${slide.id}, which way it runs`,
    member: null,
  };
}

/** From level to the right, within half a turn. @param {Slide} slide */
export function directionDegrees({ direction: [x, y] }) {
  const degrees = tidy((Math.atan2(y, x) * 180) / Math.PI);
  return ((degrees % 180) + 180) % 180;
}

/**
 * The mount with a slide running another way.
 * @param {Mount} mount @param {number} index @param {number} degrees
 * @returns {Mount}
 */
export function directionTurned(mount, index, degrees) {
  const [x, y] = runOf(((degrees % 180) + 180) % 180);
  const direction = /** @type {[number, number]} */ ([fine(x), fine(y)]);
  return {
    ...mount,
    members: mount.members.map((each, at) => (at === index && each.kind === "slide" ? { ...each, direction } : each)),
  };
}

/**
 * The same with its handle at a place.
 * @param {Mount} mount @param {string} name @param {readonly [number, number]} to mm @param {number} [step] degrees
 */
export function directionMoved(mount, name, to, step = 0) {
  const index = directionOf(name);
  const slide = index === null ? undefined : mount.members[index];
  if (index === null || slide?.kind !== "slide") return mount;
  const degrees = (Math.atan2(to[1] - slide.at[1], to[0] - slide.at[0]) * 180) / Math.PI;
  return directionTurned(mount, index, step ? Math.round(degrees / step) * step : degrees);
}

/**
 * A slide's direction turned on.
 * @param {Mount} mount @param {string} name @param {number} by degrees
 * @returns {Mount}
 */
export function withTurned(mount, name, by) {
  const index = directionOf(name);
  const slide = index === null ? undefined : mount.members[index];
  return index !== null && slide?.kind === "slide"
    ? directionTurned(mount, index, directionDegrees(slide) + by)
    : mount;
}
