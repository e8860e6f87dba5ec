/**
 * How many times life size errors are drawn on the staffs: it follows the numbers and the view, and changes as seldom
 * as it
 * can.
 * @module sheet/magnification
 */

import { staffRoom } from "./marks/staff.js";

/** @typedef {import("../core/store.js").State} State */
/** @typedef {{left: {worst: number}, right: {worst: number}, tolerance: number|null}} Widths of a budget's ends, mm */

const NICE = [200, 100, 50, 40, 25, 20, 10, 5, 4, 2, 1];

/**
 * How many times life size errors are drawn, so that they fit a staff. It keeps its value while that still serves.
 * @param {{budget: Widths|null}|null} readout
 * @param {number} scale pixels per mm
 * @param {number} room pixels above and below zero
 * @param {number} now
 */
export function magnificationFor(readout, scale, room, now) {
  if (!readout?.budget) return now;
  const { left, right, tolerance } = readout.budget;
  const most = Math.max(1.15 * (tolerance ?? 0), left.worst, right.worst, 1e-6);
  const used = (most * scale * now) / room;
  if (used <= 1 && used >= 0.3) return now;
  return NICE.find((each) => most * scale * each <= room) ?? 1;
}

/**
 * Keep the magnification of a sheet fitting while its numbers and its view change.
 * @param {import("../core/store.js").Store} store
 * @param {import("./sheet.js").Sheet} sheet
 */
export function followMagnification(store, sheet) {
  store.listen((state, before) => {
    if (state.view === before.view && state.answered === before.answered && state.demo === before.demo) return;
    if (!state.view) return;
    const room = staffRoom(sheet.size);
    const magnification = magnificationFor(withGrade(state), state.view.scale, room, state.magnification);
    if (magnification !== state.magnification) store.set({ magnification });
  });
}

/** The newest readout, with room on the staffs for a grade that is worked to. @param {State} state */
function withGrade({ answered, demo }) {
  if (!answered?.budget || !demo.correction) return answered;
  const { left, right, tolerance } = answered.budget;
  const least = 1.1 * demo.correction.off;
  return {
    budget: {
      left: { worst: Math.max(left.worst, least) },
      right: { worst: Math.max(right.worst, least) },
      tolerance,
    },
  };
}
