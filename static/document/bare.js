/**
 * A blade with nothing to hold it, to start from, round in the user's units.
 * @module document/bare
 */

import { MM_PER_INCH, customs, inward } from "../values/units.js";
import { tidy } from "./mount.js";

/** @typedef {Omit<Mount, "title"|"note"|"bodies"|"members">} Begun what a mount has besides its members */

/** @type {Begun} */
const METRIC = {
  format: 1,
  blade: { left: [-1200, 0], right: [1200, 0], mass: 290, mass_centre: [0, 190] },
  valve: { flow: 12, smallest_pulse: 0.8 },
  oil: { bulk_modulus: 700, relief_pressure: 18 },
  load: { at: [1200, 0], force: [0, 1000] },
  sensors: { left: [-1000, 1700], right: [1000, 1700] },
  allowances: [{ label: "receiver reading", plus_minus: 1.5, at: "sensors" }],
  tolerance: 3,
};

/** A place of so many inches. @param {number} x @param {number} y @returns {[number, number]} */
function inches(x, y) {
  return [tidy(x * MM_PER_INCH), tidy(y * MM_PER_INCH)];
}

/** @type {Begun} */
const INCH = {
  format: 1,
  blade: { left: inches(-48, 0), right: inches(48, 0), mass: inward(650, "mass", "inch"), mass_centre: inches(0, 8) },
  valve: { flow: inward(3, "flow", "inch"), smallest_pulse: inward(0.05, "volume", "inch") },
  oil: { bulk_modulus: inward(200_000, "modulus", "inch"), relief_pressure: inward(2500, "pressure", "inch") },
  load: { at: inches(48, 0), force: [0, inward(250, "force", "inch")] },
  sensors: { left: inches(-40, 66), right: inches(40, 66) },
  allowances: [{ label: "receiver reading", plus_minus: inward(1 / 16, "error", "inch"), at: "sensors" }],
  tolerance: inward(1 / 8, "error", "inch"),
};

const BEGUN = { metric: METRIC, inch: INCH };

/**
 * @param {Mount} like a mount whose blade, load and the rest to keep, if they were drawn in these units
 * @param {System} system the user's units
 * @returns {Mount}
 */
export function bareBlade(like, system) {
  const begun = (like.display ?? "metric") === system ? like : { ...BEGUN[customs(system).trade], display: system };
  return { ...begun, title: "New mount", note: "", bodies: [], members: [] };
}
