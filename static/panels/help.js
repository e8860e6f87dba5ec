/**
 * How the numbers of each panel are to be read, in a few lines at its foot.
 * @module panels/help
 */

import { h } from "../values/shapes.js";

/** @type {Record<string, string[]>} */
const HELP = {
  budget: [
    "Each row is one source at its worst, and what it does to each end the way that end goes wrong farther. " +
      "The rows add up to the total.",
    "Play: half the joint's clearance times how far the end moves for a unit of movement there. Oil, stretch, lugs " +
      "and tyres: under the full load. Step: half the valve's smallest. Allowance: as entered, carried to the end.",
    "What the load moves: counted from where the weight alone lays the play; of play what the load shifts it, all of " +
      "it where the weight gives it no side, the rest in full. It may pass the worst, which is counted from the " +
      "middle of the play.",
    "True worst: the sums take every movement as small; here the mount is put together again with every joint " +
      "where it moves the end farthest, from many starts.",
    "Statistical (rss): the middle of the ranges plus the root sum of squares of their half widths. The green " +
      "lines are the tolerance.",
  ],
  dial: [
    "A gauge at each end, set to zero under the weight alone; then the full load comes on. The reading is " +
      "play that moves, oil squeezed, rods stretched, lugs bent and the frame lifted on its tyres.",
    "Held: the load moves a twentieth of that play at the most. Moves: more. Turns over: the push reverses. Side " +
      "not known: the weight does not push it, so it may move by none or all of its play: ±.",
  ],
  spread: [
    "Draws of the linear sums go on until the limits are settled to 2 in the third figure of the widest, or to two " +
      "million. Nothing known: play " +
      "anywhere in its clearance. Pressed: where weight and a drawn share of the load push it. Below the curve " +
      "the middle 95 %.",
    "Upright lines: all at their worst (dark) and the tolerance (green).",
  ],
  goals: [
    "Each goal is read as the mount stands, or over its whole travel: there at 11 strokes a side, every one of " +
      "which it has to reach. Coupling is the largest of all cylinders, whichever way it goes.",
  ],
  suggestions: [
    "Round steps of pivots, whole cylinders, sensors, plumb members, next bores and next fits are each made and " +
      "measured over all goals. A mount that hangs loose, comes near a dead centre, passes a stroke or goes below " +
      "the edge is left out.",
  ],
  free: [
    "x and y as drawn; an empty range stays. Both sides alike: the joint that mirrors it takes the mirrored steps. " +
      "Whole: the other end goes along. Locks are for suggestions; in a search whatever is not free stays.",
  ],
  search: [
    "Mounts are made at random within the boxes and bred from the better ones, and the best are sharpened along " +
      "their slopes. Each holds over 5 strokes a side, keeps clear of dead centres, strokes and ground. What " +
      "is shown are those that no other of them beats in everything; none is proved to be the best there is.",
  ],
  change: [
    "Each step is made and the mount worked out again: what is said is what you get by the linear sums; in brackets " +
      "what the other end pays for it.",
    "Wear: by how much all play, or one joint's alone, may grow before the tolerance is lost.",
  ],
  forces: [
    "At a pin or slide the force between its two bodies, at a rod or cylinder end that of the member on the " +
      "body. Both: weight and load together. Stall: the load grown either way until the first cylinder is at " +
      "relief. Use: the larger of what occurs and stall, of the rating.",
    "Cylinders: + pushed shorter (the cap carries), − pulled (the annulus carries). Pressure under the load alone; " +
      "of relief: weight and load together. A locked cylinder is held by its port relief or lock valve: this holds " +
      "if the port relief is set so.",
    "Speed: the valve's flow over the area. Smallest step: its smallest pulse over the area, times how far the " +
      "end moves with the cylinder.",
  ],
};

/** @param {string} name of a panel @returns {import("../values/shapes.js").Shape[]} */
export function help(name) {
  const words = HELP[name];
  if (!words) return [];
  return [
    h("details", { key: "help", class: "help" }, [
      h("summary", { key: "summary" }, "how to read this"),
      ...words.map((each, index) => h("p", { key: index, class: "said quiet" }, each)),
    ]),
  ];
}
