/**
 * The state of one mount in print: asked once, nothing moves.
 * @module pages/handout/state
 */

import { pointsOf } from "../compare/extent.js";
import { staffRoom } from "../../sheet/marks/staff.js";
import { magnificationFor } from "../../sheet/magnification.js";
import { firstState } from "../../core/store.js";
import { fit } from "../../values/view.js";

/** @typedef {import("../../core/store.js").State & {answered: Readout}} Printed a state that has its answer */

/**
 * @param {{mount: Mount, command: Command, answer: Readout, judged?: Detailed}} question answered
 * @param {System} system @returns {Printed}
 */
export function printed({ mount, command, answer, judged }, system) {
  const located = answer.pose !== null;
  return {
    ...firstState(),
    mount,
    command,
    system,
    answered: answer,
    detail: judged ? { mount, answer: judged } : null,
    readout: located ? answer : null,
    link: "live",
    chosen: located ? farthest(answer) : null,
  };
}

/**
 * The same with a view: mounts drawn together share scale and magnification.
 * @param {Printed[]} states @param {{width: number, height: number}} size pixels @returns {Printed[]}
 */
export function viewed(states, size) {
  const points = states.flatMap((state) => pointsOf(state.mount));
  const view = fit(points, size, { left: 148, right: 148, top: 22, bottom: Math.max(106, staffRoom(size) + 30) });
  const budgets = states.flatMap((state) => state.answered.budget ?? []);
  const end = (/** @type {"left"|"right"} */ name) => ({ worst: Math.max(...budgets.map((each) => each[name].worst)) });
  const together = budgets.length
    ? {
        budget: {
          left: end("left"),
          right: end("right"),
          tolerance: Math.max(...budgets.map((each) => each.tolerance ?? 0)),
        },
      }
    : null;
  const magnification = magnificationFor(together, view.scale, staffRoom(size), budgets.length ? 1e-9 : 1);
  return states.map((state) => ({ ...state, view, magnification }));
}

/** The cylinder whose coupling is farthest from zero; the later one when equal. @param {Located} readout */
function farthest(readout) {
  const size = (/** @type {Actuator} */ each) => Math.abs(each.coupling ?? 0);
  const ids = Object.keys(readout.actuators);
  return ids.reduce(
    (/** @type {string|null} */ best, id) =>
      best === null || size(readout.actuators[id]) >= size(readout.actuators[best]) - 1e-9 ? id : best,
    null,
  );
}

/** The end with the larger worst error. @param {Budget} budget @returns {"left"|"right"} */
export function worseEnd(budget) {
  return budget.left.worst > budget.right.worst ? "left" : "right";
}
