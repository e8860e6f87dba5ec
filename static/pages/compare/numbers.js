/**
 * The headline numbers two mounts are compared by: where each stands in the readout, and what it hangs on.
 * @module pages/compare/numbers
 */

import { hardest } from "../../values/words.js";
import { own } from "../../values/own.js";

/** @typedef {import("../../document/places.js").Tree} Tree */
/** @typedef {(string|number)[]} Path place in the readout */
/** @typedef {{path: Path|null, about: string}} Found about: which cylinder, end or joint it is */
/**
 * @typedef {Object} Row
 * @property {string} name
 * @property {string} label
 * @property {string} noun what one mount has so many times of
 * @property {import("../../values/units.js").Quantity|"count"} quantity
 * @property {"signed"|"size"} shown
 * @property {"size"|"one"} better smaller in size, or nearer to one
 * @property {string} absent place where the readout says why it is not there
 * @property {string[]} hangs the inputs it hangs on
 * @property {(readout: Located) => Found} find
 */

const ENDS = ["left", "right"];
const ERROR = ["blade", "load", "oil", "valve", "sensors", "allowances", "clearances", "tyres", "lugs"];
const DIAL = ["blade", "load", "mass", "weights", "oil", "clearances", "tyres", "lugs"];

/** @type {Row[]} */
export const ROWS = [
  row(
    "coupling",
    "Coupling, worst cylinder",
    "the coupling",
    "ratio",
    "coupling.worst",
    ["blade"],
    (readout) => {
      const { worst } = readout.coupling;
      const at = Object.entries(readout.actuators).find(([, each]) => each.coupling === worst);
      return worst === null ? none() : { path: ["coupling", "worst"], about: at ? at[0] : "" };
    },
    { shown: "signed" },
  ),
  row(
    "residual",
    "Left of an error, ends in turn",
    "what is left after each round",
    "percent",
    "coupling.residual",
    ["blade", "sensors"],
    (readout) => (readout.coupling.residual === null ? none() : { path: ["coupling", "residual"], about: "" }),
  ),
  row("worst", "Worst edge error, summed", "the worst edge error", "error", "budget", ERROR, (readout) =>
    ofEnds(readout, "worst"),
  ),
  row("rss", "Statistical edge error (rss)", "the statistical edge error", "error", "budget", ERROR, (readout) =>
    ofEnds(readout, "rss"),
  ),
  row(
    "under-load",
    "Worst, play as the load moves it",
    "the worst with play as the load moves it",
    "error",
    "budget.left.worst_under_load",
    [...ERROR, "mass", "weights"],
    (readout) => ofEnds(readout, "worst_under_load"),
  ),
  row(
    "load-ratio",
    "Cylinder load for edge load",
    "the load on the cylinder",
    "ratio",
    "actuators.load_ratio",
    ["blade", "load"],
    (readout) => {
      const most = hardest(readout.actuators);
      return most ? { path: ["actuators", most[0], "load_ratio"], about: most[0] } : none();
    },
  ),
  row(
    "pressure",
    "Oil pressure under the load",
    "the oil pressure",
    "pressure",
    "actuators.pressure",
    ["blade", "load"],
    (readout) =>
      largest(
        Object.keys(readout.actuators).map((id) => ({ path: ["actuators", id, "pressure"], about: id })),
        readout,
      ),
  ),
  row(
    "dial-left",
    "Dial reading, left end",
    "the dial reading at the left end",
    "error",
    "dial",
    DIAL,
    (readout) => (readout.dial ? { path: ["dial", "left"], about: "" } : none()),
    { shown: "signed" },
  ),
  row(
    "dial-right",
    "Dial reading, right end",
    "the dial reading at the right end",
    "error",
    "dial",
    DIAL,
    (readout) => (readout.dial ? { path: ["dial", "right"], about: "" } : none()),
    { shown: "signed" },
  ),
  row(
    "joint-force",
    "Largest joint force",
    "the joint force",
    "force",
    "forces.together",
    ["blade", "load", "mass", "weights"],
    (readout) =>
      largest(
        Object.keys(readout.forces).map((name) => ({
          path: ["forces", name, "worst"],
          about: name.replace(" / ", ", end "),
        })),
        readout,
      ),
  ),
  row(
    "step",
    "Smallest step at the edge",
    "the smallest step",
    "error",
    "actuators.step",
    ["blade", "valve"],
    (readout) =>
      largest(
        Object.keys(readout.actuators).flatMap((id) =>
          ["lengthen", "shorten"].flatMap((way) =>
            ENDS.map((end) => ({ path: ["actuators", id, "step", way, end], about: `${id}, ${end} end` })),
          ),
        ),
        readout,
      ),
  ),
  row(
    "moves",
    "Cylinders to correct one end",
    "the cylinders to move",
    "count",
    "coupling.moves",
    ["blade"],
    (readout) => (readout.coupling.moves ? { path: ["coupling", "moves", mostMoved(readout)[0]], about: "" } : none()),
  ),
];

/**
 * @param {string} name
 * @param {string} label
 * @param {string} noun
 * @param {Row["quantity"]} quantity
 * @param {string} absent
 * @param {string[]} hangs @param {Row["find"]} find @param {Partial<Row>} [how] @returns {Row}
 */
function row(name, label, noun, quantity, absent, hangs, find, how = {}) {
  return { name, label, noun, quantity, absent, hangs, find, shown: "size", better: "size", ...how };
}

/** @returns {Found} */
function none() {
  return { path: null, about: "" };
}

/**
 * The number a row shows.
 * @param {Row} each
 * @param {Readout|null} readout null while there is none
 * @returns {{value: number|null, path: Path|null, about: string}}
 */
export function numberOf(each, readout) {
  if (!readout?.pose) return { value: null, path: null, about: "" };
  const { path, about } = each.find(readout);
  if (!path) return { value: null, path, about };
  return { value: each.quantity === "count" ? mostMoved(readout)[1] : at(readout, path), path, about };
}

/** The number at a place; null where there is none. @param {Readout|null} readout @param {Path} path */
export function at(readout, path) {
  const found = path.reduce(
    (/** @type {unknown} */ inner, step) => own(/** @type {Tree} */ (inner), String(step)),
    readout,
  );
  return typeof found === "number" ? found : null;
}

/** The worse end. @param {Located} readout @param {"worst"|"rss"|"worst_under_load"} name @returns {Found} */
function ofEnds(readout, name) {
  return largest(
    ENDS.map((end) => ({ path: ["budget", end, name], about: `${end} end` })),
    readout,
  );
}

/** @param {Found[]} places @param {Located} readout @returns {Found} */
function largest(places, readout) {
  const size = (/** @type {Found} */ each) => Math.abs(at(readout, /** @type {Path} */ (each.path)) ?? Number.NaN);
  const known = places.filter((each) => Number.isFinite(size(each)));
  return known.length ? known.reduce((a, b) => (size(b) > size(a) * (1 + 1e-9) ? b : a)) : none();
}

/**
 * The end that takes more cylinders to correct, and how many.
 * @param {Located} readout @returns {[EndName, number]}
 */
function mostMoved(readout) {
  const { moves } = readout.coupling;
  const count = (/** @type {EndName} */ end) =>
    Object.values(moves?.[end] ?? {}).filter((move) => Math.abs(move) > 1e-6).length;
  const [left, right] = [count("left"), count("right")];
  return left > right ? ["left", left] : ["right", right];
}
