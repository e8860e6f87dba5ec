/**
 * What is typed is offered before it is taken: what it makes of the mount, and what speaks against it.
 * @module core/offers
 */

import { isRedrawn } from "../document/lengths.js";
import { commandFor } from "../document/mount.js";
import { fightWords, held } from "../document/settle.js";
import { Refused, SLOWEST_ANSWER_MS, asked } from "./server.js";

/** @typedef {import("./server.js").Fault} Fault */
/** @typedef {import("../document/moves.js").Outcome} Outcome */

/**
 * What a change makes of a mount with its held dimensions.
 * @param {Mount} mount @param {(mount: Mount) => Mount|Outcome} make
 * @returns {Outcome}
 */
export function outcomeOf(mount, make) {
  const made = make(mount);
  return "fighting" in made ? made : held(mount, made);
}

/** That held dimensions do not let it. @param {Dimension[]} fighting @returns {Fault} */
export function fightFault(fighting) {
  return { place: "", code: "held", text: "{why}", values: { why: [fightWords(fighting), "word"] } };
}

/**
 * What the server has against a document, if anything. A place that takes a cylinder out of its reach is none: what
 * mends it stands in the notice.
 * @param {Mount} before @param {Mount} mount @param {Command} command
 * @returns {Promise<Fault|null>}
 */
export async function faultOf(before, mount, command) {
  try {
    const signal = AbortSignal.timeout(SLOWEST_ANSWER_MS);
    await asked("/readout", { mount, command: commandFor(before, mount, command) }, { signal });
    return null;
  } catch (error) {
    if (!(error instanceof Refused)) return null;
    const faults = error.faults.map((each) => ({ ...each, place: each.place.replace(/^mount\.?/, "") }));
    return faults.find((each) => !isMovedOut(each, before, mount)) ?? null;
  }
}

/**
 * Whether a fault is that a cylinder does not reach where its ends have just been put.
 * @param {Fault} fault @param {Mount} before @param {Mount} after
 */
function isMovedOut({ code, place }, before, after) {
  return code === "outside-stroke" && isRedrawn(before, after, Number(place.match(/\d+/)?.[0]));
}
