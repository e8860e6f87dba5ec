/**
 * What a run comes to, in a practitioner's words.
 * @module pages/run/words
 */

import { DASH, amount, number, times } from "../../values/units.js";

/**
 * @typedef {Object} Four
 * @property {number} rms mm
 * @property {number} worst mm
 * @property {number|null} inside share
 * @property {number|null} time s; null for never
 * @property {number|null} other mm
 * @property {EndName|null} disturbed the end that was on grade
 */

/** @typedef {Pick<EndSummary, "rms"|"worst"|"inside"|"time_to_grade"|"disturbed">} Judged */

const ENDS = /** @type {const} */ (["left", "right"]);

/** Seconds as said: to a tenth, to a hundredth below one. @param {number} seconds */
export function seconds(seconds) {
  return `${seconds.toFixed(seconds < 1 ? 2 : 1)}\u00a0s`;
}

/**
 * Both ends in four numbers: the slower time, the rms of both, the smaller share inside, and what the end did that was
 * on grade while the other was corrected.
 * @param {Record<EndName, Judged>} summary @param {{left: number, right: number}} start mm off grade @returns {Four}
 */
export function four(summary, start) {
  const both = ENDS.map((end) => summary[end]);
  const times = both.map((each) => each.time_to_grade);
  const known = both.map((each) => each.inside).filter((each) => each !== null);
  const disturbed = ENDS.find((end) => start[end] === 0 && start[end === "left" ? "right" : "left"] !== 0) ?? null;
  return {
    rms: Math.sqrt(both.reduce((sum, each) => sum + each.rms ** 2, 0) / 2),
    worst: Math.max(...both.map((each) => each.worst)),
    inside: known.length ? Math.min(...known) : null,
    time: times.some((each) => each === null) ? null : Math.max(...times.map(Number)),
    other: disturbed ? (summary[disturbed].disturbed ?? 0) : null,
    disturbed,
  };
}

/**
 * The same over many seeds: means, the largest of all errors, and no time to grade where any seed never comes there.
 * @param {RunOverSeeds} seeds @param {{left: number, right: number}} start @returns {Four}
 */
export function fourOver(seeds, start) {
  const one = (/** @type {EndName} */ end) => {
    const { rms, worst, inside, time_to_grade: time, disturbed } = seeds[end];
    return {
      rms: rms?.mean ?? 0,
      worst: worst?.largest ?? 0,
      inside: inside?.mean ?? null,
      time_to_grade: time && time.count === seeds.seeds ? time.mean : null,
      disturbed: disturbed?.mean ?? null,
    };
  };
  return four({ left: one("left"), right: one("right") }, start);
}

/**
 * Four numbers of what a run comes to, over its seeds where there are several.
 * @param {{summary: RunSummary|null, seeds: RunOverSeeds|null}} made @param {{left: number, right: number}} start
 * @returns {Four|null}
 */
export function fourOf({ summary, seeds }, start) {
  return seeds ? fourOver(seeds, start) : summary && four(summary, start);
}

/**
 * How sure a mean over many seeds is, and the worst of them all.
 * @param {RunOverSeeds} seeds @param {System} system
 */
export function sure(seeds, system) {
  const both = (/** @type {"low"|"high"} */ side) =>
    Math.sqrt(ENDS.reduce((sum, end) => sum + Math.max(seeds[end].rms?.[side] ?? 0, 0) ** 2, 0) / 2);
  const worst = Math.max(...ENDS.map((end) => seeds[end].worst?.largest ?? 0));
  const low = number(both("low"), "error", system);
  const [high, most] = [both("high"), worst].map((each) => amount(each, "error", system));
  return `mean of ${seeds.seeds} seeds, ${low} to ${high}; worst of all ${most}`;
}

/** How an end hunts, or nothing. @param {RunSummary} summary @param {System} system */
export function hunts(summary, system) {
  const found = ENDS.map((end) => summary[end].hunting).filter((each) => each !== null);
  if (!found.length) return "";
  const most = found.reduce((a, b) => (b.amplitude > a.amplitude ? b : a));
  return `hunts, ${amount(most.amplitude, "error", system)} every ${seconds(most.period)}`;
}

/**
 * One sentence on two mounts over the same ground.
 * @param {Four} a @param {Four} b
 * @param {boolean} begun whether an end is off grade at the start @param {System} system
 */
export function verdict(a, b, begun, system) {
  if (begun && (a.time !== null || b.time !== null)) {
    const never = (/** @type {string} */ one, /** @type {string} */ other, /** @type {number} */ time) =>
      `${one} comes to grade in ${seconds(time)}; ${other} never stays there.`;
    if (a.time === null) return never("B", "A", Number(b.time));
    if (b.time === null) return never("A", "B", a.time);
    const [quick, slow] = a.time <= b.time ? ["A", "B"] : ["B", "A"];
    const [less, more] = [Math.min(a.time, b.time), Math.max(a.time, b.time)];
    if (more < 1.05 * less) return `Both come to grade in about ${seconds(more)}.`;
    return `${quick} comes to grade in ${seconds(less)}, ${slow} in ${seconds(more)}: ${times(more / less)} as long.`;
  }
  if (a.inside !== null && b.inside !== null && Math.abs(a.inside - b.inside) >= 0.02) {
    const [more, less] = a.inside > b.inside ? ["A", "B"] : ["B", "A"];
    const [most, least] = [Math.max(a.inside, b.inside), Math.min(a.inside, b.inside)];
    return `${more} is inside the tolerance on ${percent(most)} of the way, ${less} on ${percent(least)}.`;
  }
  const [better, worse] = a.rms <= b.rms ? ["A", "B"] : ["B", "A"];
  const [less, more] = [Math.min(a.rms, b.rms), Math.max(a.rms, b.rms)];
  if (more < 1.05 * less) return `Both leave the same surface, ${amount(more, "error", system)} rms.`;
  return `${better} leaves ${amount(less, "error", system)} rms, ${worse} ${amount(more, "error", system)}.`;
}

/**
 * What working both cylinders together would make of the difference.
 * @param {RunCost[]|null} a @param {RunCost[]|null} b
 */
export function together(a, b) {
  const own = [a, b].map((costs) => costs?.find((each) => each.what === "coupled channels") ?? null);
  if (!own[0] || !own[1]) return "";
  const times = own.map((each) => each?.time_to_grade ?? null);
  if (times.some((each) => each === null)) return "";
  const [first, second] = times.map(Number).map(seconds);
  return `A control that works both cylinders together brings A to grade in ${first} and B in ${second}.`;
}

/** @param {number|null} share */
export function percent(share) {
  return share === null ? DASH : `${Math.round(100 * share)}\u00a0%`;
}
