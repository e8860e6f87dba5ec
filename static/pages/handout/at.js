/**
 * A number of the readout by its place.
 * @module pages/handout/at
 */

import { own } from "../../values/own.js";

/** @typedef {import("../../document/places.js").Tree} Tree */

/** The number at a place; null where there is none. @param {Readout|null} readout @param {(string|number)[]} path */
export function at(readout, path) {
  const found = path.reduce(
    (/** @type {unknown} */ inner, step) => own(/** @type {Tree} */ (inner), String(step)),
    readout,
  );
  return typeof found === "number" ? found : null;
}
