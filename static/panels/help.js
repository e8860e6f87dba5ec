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
    "Play: half the joint's clearance times how far the end moves per mm there. Oil and stretch: under the " +
      "full load. Step: half the valve's smallest. Allowance: as entered, carried to the end.",
    "Statistical (rss): the middle of the ranges plus the root sum of squares of their half widths. The green " +
      "lines are the tolerance.",
  ],
  dial: [
    "A gauge at each end, set to nought under the weight alone; then the full load comes on. The reading is " +
      "play that crosses over, oil squeezed and rods stretched.",
    "Held: the weight keeps that joint on one side, so its play hardly shows.",
  ],
  spread: [
    "100,000 draws: play anywhere in its clearance, load anywhere from none to full, allowances rectangular. " +
      "Below the curve the middle 95 % and 99.7 % of them.",
    "Upright lines: all at their worst (dark) and the tolerance (green).",
  ],
  change: [
    "Each step is made and the mount worked out again, so what is said is what you get; in brackets what the " +
      "other end pays for it.",
    "Wear: by how much all play, or one joint's alone, may grow before the tolerance is lost.",
  ],
  forces: [
    "At a pin or slide the force between its two bodies, at a rod or cylinder end that of the member on the " +
      "body. Both: weight and load together. Use: the most that occurs, of the rating.",
    "Cylinders: + pushed shorter (the cap carries), − pulled (the annulus carries). Pressure and relief under " +
      "the load alone.",
    "Speed: the valve's flow over the area. Smallest step: its smallest pulse over the area, times how far the " +
      "end moves per mm.",
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
