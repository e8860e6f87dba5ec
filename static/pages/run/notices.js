/**
 * What is refused of a run, and what is to be said of a mount under its settings.
 * @module pages/run/notices
 */

import { filled } from "../../values/messages.js";
import { h } from "../../values/shapes.js";

/** @typedef {Pick<import("./runner.js").Runner, "name"|"live"|"refusal"|"state">} Told */

/**
 * @param {Told[]} runners @param {string[]} unopened why a mount of the address is not there @param {System} system
 * @param {boolean} few whether the first has to do: the wall has room for no more
 * @returns {Shape[]}
 */
export function notices(runners, unopened, system, few) {
  const said = runners.flatMap(({ name, live, refusal, state }) => {
    const lead = runners.length > 1 ? `${name.toUpperCase()}: ` : "";
    const faults = refusal?.faults.map((each) => ({ bad: true, words: filled(each, system) })) ?? [];
    const notes = live?.notes.map((each) => ({ bad: false, words: filled(each, system) })) ?? [];
    const away = state === "offline" ? [{ bad: true, words: "the server does not answer; trying again" }] : [];
    return [...away, ...faults, ...notes].map(({ bad, words }) => ({ bad, words: lead + words }));
  });
  const all = [...unopened.map((words) => ({ bad: true, words })), ...said];
  const shapes = all.map(({ bad, words }) => h("p", { key: words, class: bad ? "notice refused" : "notice" }, words));
  if (!few || all.length < 2) return shapes;
  return [shapes[0], h("p", { key: "more", class: "notice" }, `and ${all.length - 1} more, off the wall`)];
}
