/**
 * The trainer's buttons.
 * @module pages/sketch/actions/showing
 */

import { withoutLast } from "../../../core/guesses.js";
import { asking, backward, forward, unveiling } from "../../../core/wallsteps.js";

/** @param {import("../actions.js").Desk} desk @returns {import("../actions.js").Actions} */
export function showing({ store, demonstration }) {
  /** @param {import("../../../core/wallsteps.js").Change|null} change */
  const step = (change) => {
    if (change?.quiz) demonstration.stop(true);
    if (change) demonstration.set(change);
  };
  return {
    play: () => demonstration.play(),
    step: () => demonstration.step(),
    stop: () => demonstration.stop(true),
    swing: () => demonstration.swing(),
    turns: () => demonstration.correct("turns"),
    together: () => demonstration.correct("together"),
    quiz: () => step((store.state.demo.quiz ? unveiling : asking)(store.state)),
    unguess: () => step({ guesses: withoutLast(store.state.demo.guesses) }),
    lines: () => step({ lines: 1 }),
    next: () => step(forward(store.state)),
    back: () => step(backward(store.state)),
    wall: () => demonstration.set({ wall: !store.state.demo.wall }),
  };
}
