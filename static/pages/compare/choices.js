/**
 * What was chosen beside the two mounts, as a part of a link: how worn, and what goes along with another width.
 * @module pages/compare/choices
 */

import { USUAL } from "./widening.js";
import { USUAL_MM } from "./worn.js";

/** @typedef {import("./widening.js").Carry} Carry */
/** @typedef {{worn: number, carry: Carry}} Choices worn in mm */

const KNOWN = { mass: ["metre", "stays"], sensors: ["ends", "stay"], members: ["stay", "width"] };
const MOST_WORN_MM = 500;

/** @returns {Choices} */
export function usualChoices() {
  return { worn: USUAL_MM, carry: USUAL };
}

/** As a part of a link; nothing where all is as usual. @param {Choices} choices */
export function choicesPart(choices) {
  const words = wordsOf(choices);
  return words === wordsOf(usualChoices()) ? "" : words;
}

/** @param {Choices} choices */
function wordsOf({ worn, carry }) {
  return [worn, carry.mass, carry.sensors, carry.members].join(",");
}

/** What a link has chosen. @param {string|undefined} part @returns {Choices} */
export function choicesAboard(part) {
  const [size, mass, sensors, members] = (part ?? "").split(",");
  const worn = Number(size);
  const known = KNOWN.mass.includes(mass) && KNOWN.sensors.includes(sensors) && KNOWN.members.includes(members);
  if (!part || !known || !size || !(worn >= 0 && worn <= MOST_WORN_MM)) return usualChoices();
  return { worn, carry: /** @type {Carry} */ ({ mass, sensors, members }) };
}
