/**
 * One mount by itself at the head of its handout: pass or fail large, by what it is out, and how far the slop moves.
 * @module pages/handout/judged
 */

import { flipWords, scaleOf, title, bar } from "../compare/verdicts.js";
import { h } from "../../values/shapes.js";
import { amount, number, unit } from "../../values/units.js";
import { sourceName } from "../../values/words.js";

/** @typedef {import("./state.js").Printed} State */
/** @typedef {import("../../values/shapes.js").Shape} Shape */

/** Less than half of the last digit that is shown of a height does not move. */
const UNSEEN = { metric: 0.005, inch: 0.0005 * 25.4 };
/** Joints that are named; the rest is said to be smaller. */
const NAMED = 6;

/** @param {State} state @param {Verdict} verdict the server's @returns {Shape[]} */
export function judgedShapes(state, verdict) {
  const { mount, system } = state;
  const flips = flipWords(verdict, mount, system);
  const moved = movedWords(state);
  return [
    title(verdict, "", mount, system),
    ...(verdict.end ? [bar(verdict, scaleOf([verdict]), system)] : []),
    ...(flips.length || moved ? [h("p", { key: "flips", class: "flips" }, [moved, ...flips].join(" "))] : []),
  ];
}

/**
 * How far the load really moves the slop at both ends, the joint that moves most first.
 * @param {State} state
 */
export function movedWords({ answered, mount, system }) {
  const { budget } = answered;
  if (!budget || budget.left.worst_under_load === null) return "";
  const widths = budget.left.sources.flatMap((left) => {
    const right = budget.right.sources.find(({ id, kind }) => id === left.id && kind === left.kind);
    if (left.kind !== "clearance" || !left.moved || !right?.moved) return [];
    return [{ source: left, left: left.moved[1] - left.moved[0], right: right.moved[1] - right.moved[0] }];
  });
  if (!widths.length) return "";
  const size = (/** @type {{left: number, right: number}} */ each) => Math.max(each.left, each.right);
  const seen = widths.filter((each) => size(each) >= UNSEEN[system]).sort((a, b) => size(b) - size(a));
  if (!seen.length) return "The load moves no play: every joint stays on the side the weight holds it to.";
  const named = seen.slice(0, NAMED).map(({ source, left, right }) => {
    const word = source.play === "unknown" ? ", side not known" : source.play === "turns over" ? ", turns over" : "";
    return `${sourceName(mount, source)} ${number(left, "error", system)} / ${number(right, "error", system)}${word}`;
  });
  const rest = widths.length - named.length;
  const sum = (/** @type {EndName} */ end) => widths.reduce((total, each) => total + each[end], 0);
  return (
    `The load moves the slop by ${amount(sum("left"), "error", system)} at the left end and ` +
    `${amount(sum("right"), "error", system)} at the right (left / right, ${unit("error", system)}): ` +
    `${named.join("; ")}${rest ? `; ${rest} more joints less or not at all` : ""}.`
  );
}
