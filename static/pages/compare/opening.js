/**
 * What the address of the page brings for each side, asked of the server before it is shown.
 * @module pages/compare/opening
 */

import { answerOf, said as wrong } from "../../core/server.js";
import { endsAboard, typedAboard, unpack, unpackMount } from "../../document/link.js";
import { preferredUnits } from "../../values/units.js";
import { worksAboard } from "../run/mounts.js";
import { choicesAboard } from "./choices.js";
import { lifts } from "./ends.js";
import { keptAboard } from "./keeping.js";
import { wantedAboard } from "./wanted.js";

/** @typedef {Worked & {readout: Readout}} Brought */

/** The mounts that stand there when the address brings none. */
export const FIRST = { a: "1-centre-pivot", b: "3-twin-cylinders" };

/**
 * @param {Map<string, string>} aboard
 * @param {string[]} said told of what was not opened
 * @returns {Promise<{a?: Brought, b?: Brought}>}
 */
export async function brought(aboard, said) {
  /** @type {{a?: Brought, b?: Brought}} */
  const found = {};
  for (const name of /** @type {const} */ (["a", "b"])) {
    const packed = aboard.get(name);
    if (!packed) continue;
    try {
      const { mount, command } = await unpackMount(packed);
      found[name] = { mount, command, readout: await answerOf("/readout", { mount, command }) };
    } catch (error) {
      said.push(`${name.toUpperCase()} was not opened. ${wrong(error, preferredUnits() ?? "metric")}`);
    }
  }
  return found;
}

/** Where the ends stand of the first mount that comes with its cylinders worked. @param {Brought[]} found */
export function broughtTo(found) {
  for (const { mount, command, readout } of found) {
    if (readout.pose && Object.values(command).some(Boolean)) return lifts(readout, mount);
  }
  return { left: 0, right: 0 };
}

/**
 * What the address has chosen beside the two mounts.
 * @param {Map<string, string>} aboard @param {string[]} said told of what was not opened
 */
export async function chosenAboard(aboard, said) {
  const run = aboard.get("g");
  return {
    ends: aboard.has("e") ? endsAboard(aboard) : null,
    wanted: wantedAboard(aboard.get("r")),
    choices: choicesAboard(aboard.get("x")),
    run: run ? await runAboard(run, said) : null,
    works: await worksAboard(aboard.get("w")).catch(() => ({ a: null, b: null })),
    typed: typedAboard(aboard),
    kept: keptAboard(aboard.get("k")),
  };
}

/** The shipped mounts, each with its document. */
export async function shippedMounts() {
  const list = await answerOf("/scenarios");
  return Promise.all(list.map(async ({ name }) => ({ name, mount: await answerOf(`/scenarios/${name}`) })));
}

/**
 * The run that a link brings.
 * @param {string} packed @param {string[]} said told of what was not opened
 * @returns {Promise<RunSettings|null>} null where it cannot be read
 */
async function runAboard(packed, said) {
  try {
    return /** @type {RunSettings} */ (await unpack(packed));
  } catch (error) {
    said.push(`The run was not opened. ${wrong(error, preferredUnits() ?? "metric")}`);
    return null;
  }
}
