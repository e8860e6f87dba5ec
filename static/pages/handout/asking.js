/**
 * What a handout asks the server for: each mount's own answers, both compared, and what was asked for beside.
 * @module pages/handout/asking
 */

import { answerOf } from "../../core/server.js";
import { pack, unpack } from "../../document/link.js";
import { settingsFor } from "../compare/runchoice.js";
import { worn } from "../compare/worn.js";
import { worked, worksAboard } from "../run/mounts.js";
import { travelling } from "./travel.js";

/** @typedef {import("../compare/wanted.js").Wanted} Wanted */
/**
 * A mount with everything the server says of it.
 * @typedef {{mount: Mount, command: Command, answer: Readout, judged: Detailed, short: ShortLine[], verdict: Verdict}}
 *   Question
 */
/** @typedef {{settings: RunSettings, packed: string, made: Ran[], both: RunsCompared|null}} RunMade */
/** @typedef {{one: import("./travel.js").Travelling|null, both: ComparisonOver|null}} TravelMade */

/** @param {Mount} mount @param {Record<string, number>} [command] @returns {Promise<Question>} */
export async function asked(mount, command = {}) {
  const [answer, judged, short, verdict] = await Promise.all([
    answerOf("/readout", { mount, command }),
    answerOf("/detail", { mount, command }),
    answerOf("/working/short", { mount, command }),
    answerOf("/verdict", { mount, command }),
  ]);
  return { mount, command, answer, judged, short, verdict };
}

/**
 * Two mounts compared with worn joints.
 * @param {import("../compare/asking.js").Question} question of the two as they are @param {number} to mm
 * @returns {Promise<import("./both.js").WornFound>}
 */
export async function bothWorn({ a, b, ...more }, to) {
  const [one, other] = [a, b].map((each) => ({ ...each, mount: worn(each.mount, to) }));
  return { to, found: await answerOf("/compare", { a: one, b: other, ...more }) };
}

/**
 * The run of every mount on the page.
 * @param {Worked[]} mounts @param {Wanted} wanted
 * @param {string} [packed] the settings as a link has them
 * @param {string} [working] which cylinders work, of mounts with more than two, as a link has it
 * @returns {Promise<RunMade>}
 */
export async function runOf(mounts, wanted, packed, working) {
  const settings = packed
    ? /** @type {RunSettings} */ (await unpack(packed))
    : settingsFor(/** @type {ReadyRun[]} */ (await answerOf("/run/ready")), "correction", wanted);
  const told = `${packed ?? (await pack(settings))}${working ? `&w=${working}` : ""}`;
  const works = await worksAboard(working);
  const [a, b] = mounts.map(({ mount }) => ({ mount }));
  if (b)
    return {
      settings,
      packed: told,
      made: [],
      both: await answerOf("/compare/run", { a, b, run: settings, works, best: true }),
    };
  const made = await answerOf("/run", { ...a, run: worked(settings, works.a) });
  return { settings, packed: told, made: [made], both: null };
}

/** The travel of every mount on the page. @param {Worked[]} mounts @returns {Promise<TravelMade>} */
export async function travelOf(mounts) {
  const [a, b] = mounts.map(({ mount, command }) => ({ mount, command }));
  return b
    ? { one: null, both: await answerOf("/compare/travel", { a, b }) }
    : { one: await travelling(a), both: null };
}
