/**
 * The trainer's buttons.
 * @module pages/sketch/actions/showing
 */

import { withoutLast } from "../../../core/guesses.js";
import { preferUnits, systemAfter } from "../../../values/units.js";
import { asking, backward, forward, unveiling } from "../../../core/wallsteps.js";

/** @param {import("../actions.js").Desk} desk @returns {import("../actions.js").Actions} */
export function showing({ store, demonstration, lessons, lessonRoom }) {
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
    next: () => {
      // Before its numbers are there, a step has nothing to go on to.
      if (store.state.lesson && !store.state.answered) return;
      const on = forward(store.state);
      if (on) step(on);
      else lessons.step(1);
    },
    back: () => {
      const back = backward(store.state);
      if (back) step(back);
      else lessons.step(-1);
    },
    "next-step": () => lessons.step(1),
    "last-step": () => lessons.step(-1),
    units: () => {
      const system = systemAfter(store.state.system);
      preferUnits(system);
      store.set({ system });
    },
    lessons: () => lessonRoom.show(),
    "leave-lesson": () => lessons.leave(),
    wall: () => demonstration.set({ wall: !store.state.demo.wall }),
  };
}
