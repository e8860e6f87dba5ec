/**
 * Suggestions for the goal that fails worst: asked once it is known that one fails and the hand has rested longer.
 * @module core/suggester
 */

import { readOf } from "./goals.js";
import { answerOf } from "./server.js";

const STILL_MS = 500;

/**
 * Suggestions, and what they are of.
 * @typedef {Worked & {goals: Goal[], locked: string[], system: System, answer: Suggested|null, error: unknown}}
 *   SuggestionsAsked
 */

export class Suggester {
  /** @param {import("./store.js").Store} store */
  constructor(store) {
    this.store = store;
    this.timer = 0;
    /** @type {AbortController|null} */
    this.out = null;
    store.listen((state, before) => {
      const asked = /** @type {const} */ (["mount", "command", "wishes", "system", "tab", "goalsAsked"]);
      if (asked.every((key) => state[key] === before[key])) return;
      if (suggestedFor(state)) return;
      this.stop();
      if (isWanted(state)) this.timer = window.setTimeout(() => this.ask(), STILL_MS);
    });
  }

  stop() {
    clearTimeout(this.timer);
    this.out?.abort();
    this.out = null;
  }

  async ask() {
    const { mount, command, wishes, system } = this.store.state;
    const { goals, locked } = wishes;
    const question = { mount, command, goals, locked, system };
    const out = new AbortController();
    this.out = out;
    /** @type {Pick<SuggestionsAsked, "answer"|"error">} */
    let found;
    try {
      found = { answer: await answerOf("/suggestions", question, { signal: out.signal }), error: null };
    } catch (error) {
      found = { answer: null, error };
    }
    if (!out.signal.aborted) this.store.set({ suggested: { ...question, ...found } });
  }
}

/** Whether a goal fails as the mount is now. @param {import("./store.js").State} state */
export function isWanted(state) {
  return state.tab === "improve" && Boolean(readOf(state)?.answer?.some((each) => each.met === false));
}

/** The suggestions for the mount and goals as they are now. @param {import("./store.js").State} state */
export function suggestedFor({ suggested, mount, command, wishes, system }) {
  const now =
    suggested?.mount === mount &&
    suggested.command === command &&
    suggested.goals === wishes.goals &&
    suggested.locked === wishes.locked &&
    suggested.system === system;
  return now ? suggested : null;
}
