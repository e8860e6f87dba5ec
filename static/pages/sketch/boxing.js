/**
 * A rectangle drawn round a joint on the sheet becomes the box it may stand in.
 * @module pages/sketch/boxing
 */

import { boxAbout, jointWithin, jointsOf, withBox } from "../../document/free.js";
import { own } from "../../values/own.js";
import { drawn, standing } from "../../values/placed.js";

const NO_JOINT = 'No joint lies in that rectangle: drag it round one, or choose the joint after "free".';

/**
 * @param {import("../../core/store.js").Store} store
 * @param {[[number, number], [number, number]]|null} frame pixels
 */
export function boxed(store, frame) {
  const { mount, view, readout, grid, system } = store.state;
  if (!frame || !view) {
    store.set({ frame: null });
    return;
  }
  const bodies = readout?.pose?.bodies;
  const joints = jointsOf(mount).map(({ name, body, at }) => ({
    name,
    body,
    at: view.apply(standing(at, own(bodies, body))),
  }));
  const name = jointWithin(joints, ...frame);
  const body = joints.find((each) => each.name === name)?.body;
  if (!name || body === undefined) {
    store.set({ frame: null, message: NO_JOINT });
    return;
  }
  const corners = frame.map((at) => drawn(view.invert(at), own(bodies, body)));
  const range = (/** @type {0|1} */ axis) => {
    const [low, high] = corners.map((each) => Math.round(each[axis] / grid) * grid).sort((a, b) => a - b);
    return /** @type {const} */ ([low, high > low ? high : low + grid]);
  };
  const box = boxAbout(mount, name, system, { x: range(0), y: range(1) });
  store.set(({ wishes }) => ({
    frame: null,
    boxing: false,
    wishes: box ? { ...wishes, boxes: withBox(mount, wishes.boxes, box) } : wishes,
  }));
}
