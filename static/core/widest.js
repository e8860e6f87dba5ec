/**
 * Which cylinder is shown first.
 * @module core/widest
 */

/** The cylinder whose coupling is farthest from zero; the later one when equal. @param {Located} readout */
export function widest(readout) {
  let best = null;
  let most = -1;
  for (const [id, each] of Object.entries(readout.actuators)) {
    const size = Math.abs(each.coupling ?? 0);
    if (size >= most - 1e-9) {
      most = size;
      best = id;
    }
  }
  return best;
}
