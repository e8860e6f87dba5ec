/**
 * Joints that are picked by a frame drawn round them.
 * @module pages/sketch/framing
 */

import { handles, isLoad } from "../../document/mount.js";
import { own } from "../../values/own.js";
import { standing } from "../../values/placed.js";

/**
 * Pick every joint inside a frame.
 * @param {import("../../core/store.js").Store} store @param {[[number, number], [number, number]]|null} frame pixels
 */
export function framed(store, frame) {
  const { state } = store;
  if (!frame || !state.view) {
    store.set({ frame: null });
    return;
  }
  const [a, b] = frame;
  const inside = handles(state.mount).filter((each) => {
    if (isLoad(each.name)) return false;
    const [x, y] = /** @type {import("../../values/view.js").View} */ (state.view).apply(
      standing(each.at, own(state.readout?.pose?.bodies, each.body)),
    );
    return (
      x >= Math.min(a[0], b[0]) && x <= Math.max(a[0], b[0]) && y >= Math.min(a[1], b[1]) && y <= Math.max(a[1], b[1])
    );
  });
  const selected = inside.map((each) => each.name);
  store.set({ frame: null, selected, picked: selected[0] ?? null });
}
