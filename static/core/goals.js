/**
 * How the mount stands to its goals: asked once the hand rests and the numbers are there, while its panel is open.
 * @module core/goals
 */

import { answerOf } from "./server.js";

const STILL_MS = 150;

/**
 * A reading of the goals, and what it is of.
 * @typedef {Worked & {goals: Goal[], answer: GoalRead[]|null, error: unknown}} GoalsAsked
 */

export class GoalReader {
  /** @param {import("./store.js").Store} store */
  constructor(store) {
    this.store = store;
    this.timer = 0;
    /** @type {AbortController|null} */
    this.out = null;
    store.listen((state, before) => {
      const asked = /** @type {const} */ (["mount", "command", "wishes", "tab", "answered", "refusal", "asking"]);
      if (asked.every((key) => state[key] === before[key])) return;
      if (readOf(state)) return;
      this.stop();
      if (isReady(state)) this.timer = window.setTimeout(() => this.ask(), STILL_MS);
    });
  }

  stop() {
    clearTimeout(this.timer);
    this.out?.abort();
    this.out = null;
  }

  async ask() {
    const { mount, command, wishes } = this.store.state;
    const question = { mount, command, goals: wishes.goals };
    const out = new AbortController();
    this.out = out;
    /** @type {Pick<GoalsAsked, "answer"|"error">} */
    let found;
    try {
      found = { answer: await answerOf("/goals", question, { signal: out.signal }), error: null };
    } catch (error) {
      found = { answer: null, error };
    }
    if (!out.signal.aborted) this.store.set({ goalsAsked: { ...question, ...found } });
  }
}

/** @param {import("./store.js").State} state */
function isReady(state) {
  return (
    state.tab === "improve" &&
    state.wishes.goals.length > 0 &&
    !state.asking &&
    (state.answered !== null || state.refusal !== null)
  );
}

/** The reading of the goals as they and the mount are now. @param {import("./store.js").State} state */
export function readOf({ goalsAsked, mount, command, wishes }) {
  const now = goalsAsked?.mount === mount && goalsAsked.command === command && goalsAsked.goals === wishes.goals;
  return now ? goalsAsked : null;
}
