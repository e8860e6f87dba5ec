/**
 * The trainer's buttons.
 * @module pages/sketch/actions/showing
 */

/** @param {import("../actions.js").Desk} desk @returns {import("../actions.js").Actions} */
export function showing({ store, demonstration }) {
  return {
    play: () => demonstration.play(),
    step: () => demonstration.step(),
    stop: () => demonstration.stop(true),
    swing: () => demonstration.swing(),
    turns: () => demonstration.correct("turns"),
    together: () => demonstration.correct("together"),
    quiz: () => demonstration.set({ quiz: !store.state.demo.quiz }),
    lines: () => demonstration.set({ lines: 1 }),
    next: () => demonstration.set({ lines: store.state.demo.lines + 1 }),
    wall: () => demonstration.set({ wall: !store.state.demo.wall }),
  };
}
